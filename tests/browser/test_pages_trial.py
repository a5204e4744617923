"""A job without a name in a browser: planned while it is typed, and nothing lost."""

from __future__ import annotations

import json
import time

from playwright.sync_api import Page, Route, expect

from browser.bench import DESK, PHONE, Opener, Seen

ENOUGH = {
    "sleeve-outside_diameter": "2.640",
    "sleeve-inside_diameter": "2.340",
    "casting-material": "aluminium-356",
    "sleeve-material": "grey-iron",
    "casting-outside_diameter": "3.70",
    "sleeve-length": "3.5",
    "fit-wanted": "3.4",
    "heat-slip": "5.4",
}
COLD = '[id="row-fit.cold"] .fig'
PLANNED = "Planned from what stands here."


def fill(page: Page, entries: dict[str, str]) -> None:
    """Type every entry."""
    for name, text in entries.items():
        field = page.locator(f"#{name}")
        if name.endswith("material"):
            field.select_option(text)
        else:
            field.fill(text)


def test_numbers_appear_as_they_are_typed(open_page: Opener) -> None:
    """Eight numbers fill the seven answers, with no press and no new page."""
    page = open_page("/trial", *DESK)
    expect(page.locator(".seven .k.blank").first).to_be_visible()
    fill(page, ENOUGH)
    expect(page.locator(COLD).first).to_have_text("chosen 3.4", use_inner_text=False)
    expect(page.locator(".seven .k.computed").first).to_be_visible()
    assert page.locator(".seven .k.blank").count() <= 2
    expect(page.locator(".fitpane svg.slim")).to_be_visible()
    assert page.locator("[data-stale]").count() == 0


def test_the_next_number_is_asked_for_and_reached_by_one_press(open_page: Opener) -> None:
    """The blue press leads into the field that it asks for."""
    page = open_page("/trial", *DESK)
    page.locator("a.next").click()
    assert page.evaluate("document.activeElement.id") == "sleeve-outside_diameter"
    page.keyboard.type("2.640")
    expect(page.locator("a.next")).to_contain_text("casting metal")
    expect(page.locator(".entry.wanted select")).to_have_attribute("id", "casting-material")
    assert page.evaluate("document.activeElement.id") == "sleeve-outside_diameter"


def test_enter_goes_on_to_the_next_field(open_page: Opener) -> None:
    """The keys alone walk down the sheet."""
    page = open_page("/trial", *DESK)
    page.locator("#sleeve-outside_diameter").focus()
    page.keyboard.type("2.640")
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "sleeve-inside_diameter"


def test_a_bad_entry_keeps_its_place_and_says_what_is_taken(open_page: Opener, seen: Seen) -> None:
    """The message stands beside the field, the entry stays, old numbers are said to be old."""
    seen.expected.add(422)
    page = open_page("/trial", *DESK)
    fill(page, ENOUGH)
    expect(page.locator(COLD).first).to_contain_text("3.4")
    field = page.locator("#fit-wanted")
    field.fill("3.4 %")
    message = page.locator("#fit-wanted-message")
    expect(message).to_be_visible()
    expect(message).to_contain_text("cannot be used")
    expect(field).to_have_value("3.4 %")
    expect(field).to_have_attribute("aria-invalid", "true")
    assert "fit-wanted-message" in (field.get_attribute("aria-describedby") or "")
    expect(page.locator("[data-state]")).to_contain_text("from before the entry")
    assert page.locator("[data-stale]").count() == 1
    field.fill("3.6")
    expect(page.locator(COLD).first).to_contain_text("3.6")
    expect(message).to_be_hidden()
    expect(page.locator("[data-state]")).to_have_text(PLANNED)
    assert page.locator("[data-stale]").count() == 0


def test_an_old_answer_never_takes_the_place_of_a_newer_one(open_page: Opener) -> None:
    """The answer to 3.4 is held back until that to 3.9 is shown; 3.9 stays."""
    page = open_page("/trial", *DESK)
    fill(page, {name: text for name, text in ENOUGH.items() if name != "fit-wanted"})
    expect(page.locator("a.next")).to_contain_text("wanted")
    held: list[Route] = []

    def hold(route: Route) -> None:
        typed = json.loads(route.request.post_data or "{}")["entries"]
        if typed.get("fit-wanted") == "3.4":
            held.append(route)
        else:
            route.continue_()

    page.route("**/trial/plan", hold)
    page.locator("#fit-wanted").fill("3.4")
    waited = time.monotonic() + 5.0
    while not held and time.monotonic() < waited:
        page.wait_for_timeout(50)
    assert held
    page.locator("#fit-wanted").fill("3.9")
    expect(page.locator(COLD).first).to_contain_text("3.9")
    with page.expect_response("**/trial/plan"):
        held[0].continue_()
    page.wait_for_timeout(300)
    expect(page.locator(COLD).first).to_contain_text("3.9")


def test_entries_come_back_after_a_reload(open_page: Opener) -> None:
    """What was typed is in the address and on the device, and comes back with either."""
    page = open_page("/trial", *DESK)
    fill(page, ENOUGH)
    expect(page.locator(COLD).first).to_contain_text("3.4")
    page.reload()
    expect(page.locator("#casting-outside_diameter")).to_have_value("3.70 in")
    page.goto("/trial")
    expect(page.locator("#casting-outside_diameter")).to_have_value("3.70 in")
    expect(page.locator(COLD).first).to_contain_text("3.4")


def test_a_bad_entry_comes_back_too(open_page: Opener, seen: Seen) -> None:
    """Even what could not be taken is not lost with the page."""
    seen.expected.add(422)
    page = open_page("/trial", *DESK)
    page.locator("#sleeve-outside_diameter").fill("two and a half")
    expect(page.locator("#sleeve-outside_diameter-message")).to_be_visible()
    page.goto("/trial")
    expect(page.locator("#sleeve-outside_diameter")).to_have_value("two and a half")
    expect(page.locator("#sleeve-outside_diameter-message")).to_be_visible()


def test_starting_empty_forgets_what_was_typed(open_page: Opener) -> None:
    """One press empties the sheet and the device."""
    page = open_page("/trial", *DESK)
    page.locator("#sleeve-outside_diameter").fill("2.640")
    expect(page.locator("a.next")).to_contain_text("casting metal")
    page.get_by_role("link", name="Start empty").click()
    expect(page.locator("#sleeve-outside_diameter")).to_have_value("")
    page.reload()
    expect(page.locator("#sleeve-outside_diameter")).to_have_value("")


def test_a_bench_that_does_not_answer_loses_nothing(open_page: Opener, seen: Seen) -> None:
    """While the bench is away the page says so and keeps the entries; then it plans them."""
    page = open_page("/trial", *DESK)
    page.route("**/trial/plan", lambda route: route.abort())
    page.locator("#sleeve-outside_diameter").fill("2.640")
    expect(page.locator("[data-state]")).to_contain_text("does not answer")
    kept = page.evaluate("localStorage.getItem('sleevewright-trial')")
    assert json.loads(kept)["entries"] == {"sleeve-outside_diameter": "2.640"}
    page.unroute("**/trial/plan")
    expect(page.locator("[data-state]")).to_have_text(PLANNED)
    expect(page.locator("a.next")).to_contain_text("casting metal")
    seen.complaints[:] = [one for one in seen.complaints if "ERR_FAILED" not in one]


def test_an_opened_number_stays_open_while_typing(open_page: Opener) -> None:
    """The opened basis is planned again with the rest and stays where it was."""
    page = open_page("/trial", *DESK)
    fill(page, ENOUGH)
    expect(page.locator(COLD).first).to_contain_text("3.4")
    page.locator('[id="row-fit.close_up"]').click()
    expect(page.locator('[id="row-fit.close_up"]')).to_have_attribute("aria-expanded", "true")
    page.locator("#fit-wanted").fill("3.0")
    expect(page.locator(COLD).first).to_contain_text("3.0")
    expect(page.locator('[id="row-fit.close_up"]')).to_have_attribute("aria-expanded", "true")


def test_turning_the_units_keeps_the_sizes(open_page: Opener) -> None:
    """In millimetres the same sleeve is the same size: the entry keeps the unit it had."""
    page = open_page("/trial", *DESK)
    fill(page, ENOUGH)
    expect(page.locator(COLD).first).to_contain_text("3.4")
    page.get_by_role("link", name="Shown in").click()
    expect(page.locator("#sleeve-outside_diameter")).to_have_value("2.640 in")
    expect(page.locator(COLD).first).to_contain_text("86")


def test_without_a_script_the_sheet_is_a_form(open_page: Opener) -> None:
    """The entries are sent by one press and the same page comes back planned."""
    page = open_page("/trial", *PHONE, java_script_enabled=False)
    fill(page, ENOUGH)
    page.get_by_role("button", name="Plan it").click()
    expect(page.locator(COLD).first).to_contain_text("3.4")
