"""The job ticket holds the plan's figures and no others, on one page, the same every time."""

import io
import re
from collections import Counter
from pathlib import Path

import pypdf
import pytest
import segno

from made_plans import INCH, ORDERS, SEVEN, inch_plan, with_answer, with_hazards
from sleevewright.planning.answers import Judgement, Plan, Verdict
from sleevewright.planning.hazards import STAGE_HAZARDS
from sleevewright.planning.shown import BLANK, shown_answer
from sleevewright.services.plans import plan_file
from sleevewright.sheets.ticket import BESIDE, LIMITS, ticket

A5 = (419.53, 595.28)
A4 = (595.28, 841.89)
FIGURE = re.compile(r"[+−-]?\d+(?:\.\d+)?")


def read(sheet: bytes) -> pypdf.PdfReader:
    """The sheet as a reader of PDF sees it."""
    return pypdf.PdfReader(io.BytesIO(sheet))


def words(sheet: bytes) -> str:
    """All that can be read on the sheet."""
    return "\n".join(page.extract_text() for page in read(sheet).pages)


def printed_ids(plan: Plan) -> list[str]:
    """Every answer whose figure the ticket prints."""
    beside = [name for name, _, _ in BESIDE.values()]
    limits = [name for pair in LIMITS.values() for name in pair]
    return [*plan.orders, *plan.seven, *beside, *limits]


def size_of(page: pypdf.PageObject) -> tuple[float, float]:
    """Width and height of a page in points."""
    return float(page.mediabox.width), float(page.mediabox.height)


def test_ticket_prints_every_figure_as_shown_answer_gives_it() -> None:
    """Orders, limits, companions and the seven stand there as page and terminal show them."""
    plan = inch_plan()
    found = Counter(FIGURE.findall(words(ticket(plan))))
    wanted: Counter[str] = Counter()
    for name in printed_ids(plan):
        shown = shown_answer(plan.answer(name), system=plan.units)
        wanted.update(FIGURE.findall(shown.figure))
        wanted.update(FIGURE.findall(shown.doubt))
    missing = wanted - found
    assert not missing, missing


@pytest.mark.parametrize("job", ["demo-air-175", "demo-water", "demo-thin-iron"])
def test_ticket_of_a_worked_job_has_its_orders_and_headlines(job: str, root: Path) -> None:
    """A worked job's ticket is one page with every order and headline as they are shown."""
    plan = plan_file(root / "examples" / f"{job}.toml")
    sheet = ticket(plan)
    assert len(read(sheet).pages) == 1
    text = words(sheet)
    found = Counter(FIGURE.findall(text))
    for name in (*plan.orders, *plan.seven):
        shown = shown_answer(plan.answer(name), system=plan.units)
        assert not Counter(FIGURE.findall(shown.figure)) - found, name
    assert plan.job in text
    assert "invented example" in text
    flat = " ".join(text.split())
    for caution in plan.cautions:
        assert " ".join(caution.text.split()) in flat


def test_ticket_prints_no_figure_that_the_plan_does_not_hold() -> None:
    """Beside the plan's own figures there are only the grid's degrees, the legend, names."""
    plan = inch_plan()
    allowed = set(FIGURE.findall("0 45 90 135 180 270 3.5 D-175 T175 0.1.0 175"))
    for name in printed_ids(plan):
        answer = plan.answer(name)
        shown = shown_answer(answer, system=plan.units)
        text = f"{shown.figure} {shown.doubt} {shown.unit} {answer.of}"
        allowed.update(FIGURE.findall(text))
    assert set(FIGURE.findall(words(ticket(plan)))) <= allowed


def test_metric_plan_gives_a_metric_ticket() -> None:
    """The plan's unit system decides; no inch figure is left on a metric sheet."""
    plan = inch_plan(units="metric")
    text = words(ticket(plan))
    bore = shown_answer(plan.answer("bore.target"), system="metric")
    assert bore.figure in text
    assert bore.figure == f"{2.4768 * INCH * 1e3:.3f}"
    assert "2.4768" not in text
    assert "mm down" in text


def test_ticket_is_one_a5_page_with_the_cautions_of_a_real_plan() -> None:
    """The cautions that planning gives fit beside everything else on one A5 page."""
    plan = inch_plan()
    stages = tuple(
        type(stage)(
            stage.key,
            stage.title,
            stage.answers,
            STAGE_HAZARDS.get(stage.key, ()),
        )
        for stage in plan.stages
    )
    sheet = ticket(inch_plan(stages=stages))
    pages = read(sheet).pages
    assert len(pages) == 1
    assert size_of(pages[0]) == pytest.approx(A5, abs=0.05)
    flat = " ".join(words(sheet).split())
    for key in ("parent", "counterbore", "heat", "drop", "cool"):
        for hazard in STAGE_HAZARDS[key]:
            assert hazard.text in flat


def test_cautions_that_do_not_fit_on_a5_make_it_one_a4_page() -> None:
    """Nothing is cut: the sheet grows to A4 and every caution is still there once."""
    plan = with_hazards(inch_plan(), 2)
    sheet = ticket(plan)
    pages = read(sheet).pages
    assert len(pages) == 1
    assert size_of(pages[0]) == pytest.approx(A4, abs=0.05)
    flat = " ".join(words(sheet).split())
    for stage in plan.stages:
        for hazard in stage.hazards:
            assert flat.count(" ".join(hazard.text.split())) == 1


@pytest.mark.parametrize("times", [0, 1, 2])
def test_nothing_is_printed_outside_the_page(times: int) -> None:
    """Each piece of text starts inside the margins and cautions end above the title block."""
    plan = with_hazards(inch_plan(), times) if times else inch_plan()
    page = read(ticket(plan)).pages[0]
    width, height = size_of(page)
    places: list[tuple[str, float, float]] = []

    def place(text: str, cm: list[float], tm: list[float], *_: object) -> None:
        if text.strip():
            x = tm[4] * cm[0] + tm[5] * cm[2] + cm[4]
            y = tm[4] * cm[1] + tm[5] * cm[3] + cm[5]
            places.append((text, x, y))

    page.extract_text(visitor_text=place)
    assert len(places) > 60
    for text, x, y in places:
        assert 14.0 <= x <= width - 14.0, text
        assert 14.0 <= y <= height - 14.0, text
    block_top = next(y for text, _, y in places if text.strip().startswith("Cylinder"))
    caution_feet = [y for text, _, y in places if "codes go before" in text or "Number" in text]
    assert min(caution_feet) > block_top


def test_same_plan_gives_the_same_bytes() -> None:
    """No date, no identity of the run: two sheets of one plan are one sheet."""
    assert ticket(inch_plan()) == ticket(inch_plan())


def test_sheet_differs_when_a_value_differs() -> None:
    """Another parent bore is another sheet."""
    other = with_answer(inch_plan(), "bore.target", value=2.4770 * INCH)
    assert "2.4770" in words(ticket(other))


def test_missing_value_is_a_dash_to_pencil_beside_what_it_needs() -> None:
    """A value that is not there is a dash and a blank, never a zero, and says what to give."""
    plan = with_answer(
        inch_plan(), "counterbore.depth", value=None, needs=("the flange's thickness",)
    )
    for limit in ("counterbore.depth_low", "counterbore.depth_high"):
        plan = with_answer(plan, limit, value=None)
    text = words(ticket(plan))
    assert "needs the flange's thickness" in text
    assert text.count(BLANK) == 3
    assert "0.0000" not in text
    assert "None" not in text


def test_invented_job_is_marked_and_a_real_one_is_not() -> None:
    """An invented job says so on the sheet."""
    assert "invented example" in words(ticket(inch_plan()))
    assert "invented" not in words(ticket(inch_plan(invented=False)))


def test_verdicts_stand_beside_their_numbers_in_their_three_words() -> None:
    """A running fit that is too close to call says so on paper."""
    assert "too close to call" in words(ticket(inch_plan()))


def test_slip_that_the_limit_does_not_allow_is_out_and_says_what_is_allowed() -> None:
    """An iron casting that cannot be heated enough: *out*, and the slip that can be had."""
    out = Judgement(Verdict.OUT, 503.15, "most", "test")
    plan = with_answer(inch_plan(), "heat.casting", judgement=out)
    text = " ".join(words(ticket(plan)).split())
    assert "the limit allows only 8.6 thou" in text
    assert re.search(r"\bout\b", text)
    assert "the limit allows" not in words(ticket(inch_plan()))


def test_answer_that_does_not_exist_says_none_and_leaves_no_blank() -> None:
    """Iron in iron has no grip temperature: the word none and why, nothing to pencil in."""
    why = "iron in iron: heat alone never frees it"
    plan = with_answer(inch_plan(), "fit.grip", value=None, doubt=None, of=why)
    text = " ".join(words(ticket(plan)).split())
    assert "none" in text
    assert why in text
    assert BLANK not in text


@pytest.mark.parametrize("label", ["Stock", "Stock left after close-up, inside of the sleeve bore"])
def test_long_label_of_an_order_stays_in_its_row(label: str) -> None:
    """A long name is set smaller; it does not run into the row below."""
    long = "inside of the sleeve, to bore and hone, at 20 °C, with the piston that is in hand"
    page = read(ticket(with_answer(inch_plan(), "finish.stock", label=label, of=long))).pages[0]
    places: list[tuple[str, float]] = []

    def place(text: str, cm: list[float], tm: list[float], *_: object) -> None:
        if text.strip():
            places.append((text.strip(), tm[4] * cm[1] + tm[5] * cm[3] + cm[5]))

    page.extract_text(visitor_text=place)
    heads = [y for text, y in places if text.startswith(("How tight, cold", "Slip on the gauge"))]
    feet = [y for text, y in places if "in hand" in text or text.startswith("Stock")]
    assert feet
    assert min(feet) > max(heads) + 4.0


def test_cautions_of_printed_numbers_are_printed() -> None:
    """A caution that travels with a number reaches the paper."""
    assert "The seconds rest on judged priors." in words(ticket(inch_plan()))


def test_code_version_is_the_one_that_is_given() -> None:
    """The version on the sheet is the plan's, unless another is given."""
    assert "version 0.1.0" in words(ticket(inch_plan()))
    assert "version 9.9.9" in words(ticket(inch_plan(), code="9.9.9"))


@pytest.mark.parametrize("job", ["D-175", "2031/17 left", "a-very-long-job-number-2031-0042"])
def test_qr_code_on_the_sheet_is_the_one_of_the_job_number(job: str) -> None:
    """The squares drawn on the paper are the modules of the job number's QR code."""
    code = segno.make_qr(job, error="m")
    assert not code.is_micro
    wanted = {(x, y) for y, row in enumerate(code.matrix) for x, dark in enumerate(row) if dark}
    content = read(ticket(inch_plan(job=job))).pages[0].get_contents().get_data().decode("latin-1")
    bars = [
        tuple(map(float, found))
        for found in re.findall(
            r"q 1 0 0 -1 (\S+) (\S+) cm/c0 cs 0 scn 0 0 m (\S+) 0 l \3 (\S+) l 0 \4 l\s+h\s+f",
            content,
        )
    ]
    module = 15.4 / 25.4 * 72.0 / (len(code.matrix) + 8)
    bars = [bar for bar in bars if bar[3] == pytest.approx(1.02 * module, abs=1e-3)]
    left = min(bar[0] for bar in bars)
    top = max(bar[1] for bar in bars)
    drawn = set()
    for x, y, wide, _ in bars:
        column, row = round((x - left) / module), round((top - y) / module)
        drawn |= {(column + k, row) for k in range(round(wide / module))}
    assert drawn == wanted


def test_job_without_a_number_has_no_qr_code() -> None:
    """Nothing is invented for a job that has no number yet: a dash stands there."""
    sheet = ticket(inch_plan(job=""))
    assert BLANK in words(sheet)


def test_orders_and_the_seven_may_be_fewer() -> None:
    """A four-stroke without ports has six headlines and still makes a sheet."""
    plan = inch_plan(seven=SEVEN[:6], orders=ORDERS[:1])
    assert len(read(ticket(plan)).pages) == 1


def test_long_title_and_other_alphabets_do_not_spill() -> None:
    """A long title is set smaller; letters that the lettering lacks come from the fallback."""
    title = "Žluťoučký kůň: a barrel whose name somebody typed at length, left hand, 1974, second"
    sheet = ticket(inch_plan(title=title))
    assert len(read(sheet).pages) == 1
    assert "barrel whose name" in " ".join(words(sheet).split())


def test_text_of_a_job_is_never_read_as_markup() -> None:
    """What a person typed is printed as typed, whatever it means to the typesetter."""
    title = "#panic() *bold* $x^2$ <label> @ref"
    assert title in " ".join(words(ticket(inch_plan(title=title))).split())
