"""Draw README's picture of the first demo's page on a phone, in a browser.

In:  `out/library-hearth/page.html`.
Out: `out/phone.png`, which says in itself which page it shows.
"""

from __future__ import annotations

import io
from hashlib import sha256
from pathlib import Path

from PIL import Image
from PIL.PngImagePlugin import PngInfo

from tests.browser.conftest import PHONE, browser_file

OUT = Path(__file__).resolve().parents[1] / "out"
PAGE, PICTURE = OUT / "library-hearth" / "page.html", OUT / "phone.png"
GAP = 40
SCREENS = (
    ("light", "document.getElementById('views').scrollIntoView()"),
    ("light", "document.querySelector('.spots a[href=\"#F-07-02\"]').dispatchEvent("
     "new MouseEvent('click', {bubbles: true, cancelable: true}))"),
    ("dark", "[...document.querySelectorAll('.step h3')]"
     ".find((x) => x.textContent.trim() === 'Course 7').scrollIntoView()"),
)  # fmt: skip
"""What is seen: the face, the card of a brick, a course at night."""


def digest() -> str:
    """Return which page it is."""
    return sha256(PAGE.read_bytes()).hexdigest()


def draw() -> None:
    """Draw the screens side by side."""
    from playwright.sync_api import sync_playwright

    shots = []
    with sync_playwright() as driver:
        browser = driver.chromium.launch(
            executable_path=browser_file(), args=["--no-sandbox"]
        )
        for scheme, act in SCREENS:
            context = browser.new_context(
                viewport=PHONE, color_scheme=scheme, device_scale_factor=2
            )
            tab = context.new_page()
            tab.goto(PAGE.as_uri())
            tab.evaluate(act)
            tab.wait_for_timeout(300)
            shots.append(Image.open(io.BytesIO(tab.screenshot())))
        browser.close()
    wide = sum(shot.width for shot in shots) + GAP * (len(shots) - 1)
    picture, left = Image.new("RGB", (wide, shots[0].height), "white"), 0
    for shot in shots:
        picture.paste(shot, (left, 0))
        left += shot.width + GAP
    says = PngInfo()
    says.add_text("Layouts", digest())
    picture.quantize(64).save(PICTURE, optimize=True, pnginfo=says)


if __name__ == "__main__":
    draw()
