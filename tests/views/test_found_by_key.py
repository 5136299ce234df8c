"""Views find findings by their keys; the words of a rule are there to be lettered."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

VIEWS = Path(__file__).resolve().parents[2] / "shopdraw" / "views"
LETTER = (
    *("papers/chosen", "papers/stripping", "review/table"),
    *("words/report", "words/record", "words/tables"),
)
"""The modules that letter what a rule is called; nowhere else is it looked at."""
SENTENCES = ("words", "says")


def is_english(node: ast.AST) -> bool:
    """Whether it is the words of a rule, or the sentence of a finding."""
    if not isinstance(node, ast.Attribute) or node.attr not in SENTENCES:
        return False
    owner = node.value
    name = getattr(owner, "attr", getattr(owner, "id", ""))
    return name in ("rule", "finding")


def looked_at(source: str) -> Iterator[int]:
    """Yield the lines where English is compared, or searched: never only lettered."""
    for node in ast.walk(ast.parse(source)):
        parts: list[ast.AST] = []
        if isinstance(node, ast.Compare):
            parts = list(ast.walk(node))
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            # What is asked of a string: `finding.rule.words.startswith("hearth")`.
            parts = [node.func.value]
        elif isinstance(node, ast.Subscript):
            parts = list(ast.walk(node))
        elif isinstance(node, ast.DictComp):
            parts = list(ast.walk(node.key))
        elif isinstance(node, ast.Match):
            parts = list(ast.walk(node.subject))
        if any(map(is_english, parts)):
            yield node.lineno


def found_by_english(name: str, source: str) -> list[str]:
    """Return where a module of the views goes by English."""
    lines = set(looked_at(source))
    if name not in LETTER:
        lines |= {
            node.lineno
            for node in ast.walk(ast.parse(source))
            if is_english(node) and isinstance(node, ast.Attribute)
            if node.attr == "words"
        }
    return [f"{name}, line {line}" for line in sorted(lines)]


def modules() -> dict[str, str]:
    return {
        path.relative_to(VIEWS).with_suffix("").as_posix(): path.read_text("utf-8")
        for path in sorted(VIEWS.rglob("*.py"))
    }


def test_no_view_finds_a_finding_by_its_words() -> None:
    sources = modules()
    assert set(LETTER) < set(sources)
    assert [
        x for name, text in sources.items() for x in found_by_english(name, text)
    ] == []


def test_the_modules_that_letter_a_rule_s_words_are_those_that_do() -> None:
    sources = modules()
    for name in LETTER:
        assert any(map(is_english, ast.walk(ast.parse(sources[name])))), name


@pytest.mark.parametrize(
    ("name", "line"),
    [
        ("section/upright", "a = finding.rule.words"),
        (
            "section/upright",
            "a = [x for x in found if x.rule.words == 'lead in paint']",
        ),
        ("words/tables", "a = [x for x in found if x.rule.words == 'lead in paint']"),
        ("words/report", "a = 'hearth' in finding.rule.words"),
        ("words/report", "a = 'is not given' in finding.says"),
        ("words/record", "a = finding.rule.words.startswith('hearth')"),
        ("words/record", "a = rows[rule.words]"),
        ("review/table", "a = {x.rule.words: x for x in found}"),
        ("review/table", "match finding.rule.words:\n    case 'lead': pass"),
    ],
)
def test_a_view_that_goes_by_english_is_noticed(name: str, line: str) -> None:
    source = modules()[name]
    assert found_by_english(name, source) == []
    last = len(source.splitlines()) + 1
    assert found_by_english(name, f"{source}{line}\n") == [f"{name}, line {last}"]
