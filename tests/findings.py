"""Findings by what they are found by: their key, and what of the job they are about."""

from __future__ import annotations

from collections.abc import Iterable

from shopdraw.review.findings import Finding, Rule

Name = str | tuple[str, str | int]


def name_of(rule: Rule) -> Name:
    """Return a rule's key; with what it is about, where there may be several."""
    return (rule.key, rule.about) if rule.about else rule.key


def by_key(findings: Iterable[Finding]) -> dict[Name, Finding]:
    """Return findings by their keys, in their own order; of several alike the last."""
    return {name_of(finding.rule): finding for finding in findings}
