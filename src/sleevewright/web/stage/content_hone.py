"""What the two stages that hone show of the strokes, heat, grits and travel, alike."""

from __future__ import annotations

from sleevewright.web.stage.fit_sections import Section


def hone_lead(key: str) -> tuple[str, ...]:
    """What is done next, large: strokes, and where to stop while it is warm."""
    return f"{key}.sure", f"{key}.stop_at"


def hone_rows(key: str) -> tuple[str, ...]:
    """Where the bore stands and how many strokes are to go."""
    names = (
        "size_now", "stock", "room", "strokes", "overshoots", "rate", "dulls", "warmer", "wait",
        "grid_cold", "dwell_says", "stroke_wanted",
    )  # fmt: skip
    return tuple(f"{key}.{one}" for one in names)


def hone_sections(key: str) -> tuple[Section, ...]:
    """The rest, behind a press each."""
    parts = (
        ("Strokes, how sure", ("strokes_p05", "strokes_p50", "strokes_p95", "since")),
        ("Grits and stock", ("grits", "grit_1", "grit_2", "grit_3", "marks")),
        ("While it is warm", ("now", "cold_now", "growth", "growth_now", "eased")),
        ("Stones, ends and ports", ("overrun_top", "overrun_bottom", "bridging")),
    )
    return tuple(
        Section(heading, tuple(f"{key}.{one}" for one in rows), is_open=False)
        for heading, rows in parts
    )
