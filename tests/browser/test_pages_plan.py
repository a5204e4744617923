"""The plan page in a browser: one screen, numbers that open, keys, themes, paper."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect
from pypdf import PdfReader

from browser.bench import DESK, JOB, PHONE, TALL, Opener


def box(page: Page, selector: str) -> dict[str, float]:
    """Where an element stands on the screen."""
    found = page.locator(selector).first.bounding_box()
    assert found is not None
    return dict(found)


def opened(page: Page, part: str = "open") -> str:
    """The heading of the opened basis."""
    return page.locator(f'.basis[data-basis="{part}"] h3').inner_text()


def test_seven_numbers_picture_and_basis_fit_one_screen(open_page: Opener) -> None:
    """At 1280 by 800 all of it stands above the title block, and the basis is not cut off."""
    page = open_page(JOB, *DESK)
    floor = box(page, ".block")["y"]
    for row in page.locator(".seven .row").all():
        place = row.bounding_box()
        assert place is not None
        assert place["y"] + place["height"] <= floor
    for selector in (".fitpane .broad", ".first .basis", ".kinds"):
        place = box(page, selector)
        assert place["y"] + place["height"] <= floor + 1.0
    assert page.locator(".seven .row").count() == 7
    assert page.evaluate("document.querySelector('.fitpane .slim').checkVisibility()") is False


def test_the_title_block_stays_in_view(open_page: Opener) -> None:
    """Wherever the page is scrolled, the title block stands at the foot of the screen."""
    for width, height in (DESK, TALL, PHONE):
        page = open_page(JOB, width, height)
        for down in (0, 900, 100_000):
            page.evaluate("(y) => window.scrollTo(0, y)", down)
            block = box(page, ".block")
            assert block["y"] + block["height"] == pytest.approx(height, abs=1.0)


def test_a_number_opens_at_the_right_on_a_wide_screen(open_page: Opener) -> None:
    """Pressing a row sinks it and shows what it rests on beside the picture."""
    page = open_page(JOB, *DESK)
    row = page.locator('[id="row-fit.close_up"]')
    row.click()
    expect(row).to_have_attribute("aria-expanded", "true")
    assert page.locator('.seven [aria-expanded="true"]').count() == 1
    figure = row.locator(".fig").first.inner_text()
    assert figure in opened(page)
    assert box(page, ".first .basis")["x"] > box(page, ".seven .row")["x"] + 400
    assert "open=fit.close_up" in page.url


@pytest.mark.parametrize("size", [TALL, PHONE])
def test_a_number_opens_under_its_row_below_900(open_page: Opener, size: tuple[int, int]) -> None:
    """On a narrow screen the basis stands under the row that it belongs to."""
    page = open_page(JOB, *size)
    page.locator('[id="row-fit.close_up"]').click()
    expect(page.locator('[id="row-fit.close_up"]')).to_have_attribute("aria-expanded", "true")
    row, basis = box(page, '[id="row-fit.close_up"]'), box(page, ".first .basis")
    assert basis["y"] == pytest.approx(row["y"] + row["height"], abs=2.0)
    following = box(page, '[id="row-cool.lift"]')
    assert following["y"] >= basis["y"] + basis["height"] - 1.0


def test_an_opened_number_survives_a_reload(open_page: Opener) -> None:
    """The address says what is opened, so the same page comes back."""
    page = open_page(JOB, *DESK)
    page.locator('[id="row-fit.grip"]').click()
    expect(page.locator('[id="row-fit.grip"]')).to_have_attribute("aria-expanded", "true")
    before = opened(page)
    page.reload()
    assert opened(page) == before


def test_inputs_open_further_and_lead_back(open_page: Opener) -> None:
    """An input is pressed, its own basis takes the place, and the way back is in it."""
    page = open_page(JOB, *DESK)
    first = opened(page)
    page.locator(".first .basis .input").first.click()
    back = page.locator(".first .basis .back")
    expect(back).to_be_visible()
    assert opened(page) != first
    back.click()
    expect(back).to_have_count(0)
    assert opened(page) == first


def test_everything_else_opens_under_its_row_and_closes_again(open_page: Opener) -> None:
    """A number further down opens in its own list, leaves the seven be, and closes."""
    page = open_page(JOB, *DESK)
    above = opened(page)
    row = page.locator("#stage-heat .line").first
    row.click()
    expect(row).to_have_attribute("aria-expanded", "true")
    assert page.locator('.basis[data-basis="more"]').count() == 1
    assert opened(page) == above
    row.click()
    expect(page.locator('.basis[data-basis="more"]')).to_have_count(0)
    assert "more=" not in page.url


def test_keys_alone_open_a_number(open_page: Opener) -> None:
    """Tab reaches the rows, arrows walk them, Enter and space open, the ring is seen."""
    page = open_page(JOB, *DESK)
    for _ in range(20):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.matches('.row')"):
            break
    assert page.evaluate("document.activeElement.id") == "row-fit.cold"
    ring = page.evaluate("getComputedStyle(document.activeElement).outlineWidth")
    assert ring == "4px"
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowDown")
    assert page.evaluate("document.activeElement.id") == "row-fit.grip"
    page.keyboard.press("Enter")
    expect(page.locator('[id="row-fit.grip"]')).to_have_attribute("aria-expanded", "true")
    page.keyboard.press("ArrowUp")
    page.keyboard.press(" ")
    expect(page.locator('[id="row-fit.running"]')).to_have_attribute("aria-expanded", "true")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.closest('.basis') !== null")
    page.keyboard.press("Escape")
    assert page.evaluate("document.activeElement.id") == "row-fit.running"


def test_the_route_opens_by_key_to_the_list_of_stages(open_page: Opener) -> None:
    """The whole rule is one press; behind it stand all stages with their holds."""
    page = open_page(JOB, *DESK)
    page.locator(".rule").focus()
    page.keyboard.press("Enter")
    stages = page.locator(".stages .stop")
    expect(stages.first).to_be_visible()
    assert stages.count() >= 17
    assert page.locator('.stages [aria-current="step"]').count() == 1
    page.locator(".stages a", has_text="Heat").click()
    page.wait_for_url("**/jobs/D-175/1/heat")
    expect(page.locator("h1")).to_contain_text("Heat")


def test_without_a_script_every_number_still_opens(open_page: Opener) -> None:
    """Rows and inputs are links to the same page with the number open."""
    page = open_page(JOB, *PHONE, java_script_enabled=False)
    page.locator('[id="row-fit.close_up"]').click()
    expect(page.locator('[id="row-fit.close_up"]')).to_have_attribute("aria-expanded", "true")
    page.locator(".first .basis .input").first.click()
    expect(page.locator(".first .basis .back")).to_be_visible()


def test_the_units_turn_and_turn_back(open_page: Opener) -> None:
    """One press shows the whole page in the other units, another brings it back."""
    page = open_page(JOB, *DESK)
    before = page.locator('[id="row-fit.cold"] .fig').first.inner_text()
    page.get_by_role("link", name="Shown in").click()
    expect(page.locator('[id="row-fit.cold"] .unit')).to_contain_text("µm")
    assert page.locator('[id="row-fit.cold"] .fig').first.inner_text() != before
    page.get_by_role("link", name="Shown in").click()
    expect(page.locator('[id="row-fit.cold"] .unit')).to_contain_text("thou")
    assert page.locator('[id="row-fit.cold"] .fig').first.inner_text() == before


def test_pictures_say_their_answers(open_page: Opener) -> None:
    """Fit, oven and bore map each have a text that states what they answer."""
    page = open_page(JOB, *DESK)
    says = [
        one.get_attribute("aria-label") or "" for one in page.locator("svg.drawing.broad").all()
    ]
    assert any(re.search(r"The fit from cold to hot.*Running [\d.]+ thou", text) for text in says)
    assert any("thou of slip" in text for text in says)
    assert any(re.search(r"from [−\d.]+ to [\d.]+ thou, diametral, \d+ readings", t) for t in says)


def test_cautions_stand_at_the_steps_that_can_hurt(open_page: Opener) -> None:
    """Heat, drop and every cut carry the cautions of that step."""
    page = open_page(JOB, *DESK)
    for stage, word in (("heat", "gloves"), ("drop", "burns"), ("parent", "spindle")):
        expect(page.locator(f"#stage-{stage} .hazards")).to_contain_text(word)


@pytest.mark.parametrize(("scheme", "dark"), [("light", False), ("dark", True)])
def test_the_page_follows_the_system(open_page: Opener, scheme: str, dark: bool) -> None:
    """By day ink on film, by night chalk on granite; a mark on the root overrides it."""
    page = open_page(JOB, *DESK, color_scheme=scheme)
    paint = "getComputedStyle(document.querySelector('.sheet')).backgroundColor"
    film, granite = "rgb(250, 251, 247)", "rgb(20, 26, 27)"
    assert page.evaluate(paint) == (granite if dark else film)
    page.evaluate("(name) => document.documentElement.setAttribute(name, '')",
                  "data-light" if dark else "data-dark")  # fmt: skip
    assert page.evaluate(paint) == (film if dark else granite)


def test_the_figures_are_our_own_lettering(open_page: Opener) -> None:
    """The figures' font is served with the page and used for the large figures."""
    page = open_page(JOB, *DESK)
    page.evaluate("document.fonts.ready")
    assert page.evaluate("document.fonts.check('700 64px \"Sleevewright Figures\"', '3.5')")
    family = page.evaluate("getComputedStyle(document.querySelector('.seven .fig')).fontFamily")
    assert "Sleevewright Figures" in family


def test_blue_is_only_the_next_move(open_page: Opener) -> None:
    """Of all that is painted on the plan page only the stage's edge and the next move are blue."""
    page = open_page(JOB, *DESK)
    blue = page.evaluate("""() => [...document.querySelectorAll('body *')]
      .filter((one) => one.checkVisibility())
      .filter((one) => {
        const s = getComputedStyle(one);
        const ours = 'rgb(31, 58, 157)';
        return [s.backgroundColor, s.borderLeftColor, s.color].includes(ours);
      }).map((one) => one.getAttribute('class').split(' ')[0])""")
    assert set(blue) <= {"next", "mark"}


def test_paper_is_a_ticket_of_one_page(open_page: Opener, tmp_path: Path) -> None:
    """Printed, the plan is an A5 sheet of what is cut and done; presses stay off it."""
    page = open_page(JOB, *DESK)
    target = tmp_path / "plan.pdf"
    page.pdf(path=target, prefer_css_page_size=True)
    sheets = PdfReader(target).pages
    assert len(sheets) == 1
    assert float(sheets[0].mediabox.width) == pytest.approx(148 / 25.4 * 72, abs=1.5)
    text = sheets[0].extract_text()
    assert "Slip needed" in text
    assert "How tight, running" in text
    assert "Everything else" not in text
    assert "Evidence" not in text


def test_nothing_moves_when_motion_is_unwanted(open_page: Opener) -> None:
    """With reduced motion no element has an animation or a transition that runs."""
    page = open_page(JOB, *DESK, reduced_motion="reduce")
    assert page.evaluate("document.getAnimations().length") == 0
