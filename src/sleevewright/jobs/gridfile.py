"""The readings of a grid as they were pencilled: sizes, differences from a nominal, blanks."""

from __future__ import annotations

from sleevewright.errors import clipped
from sleevewright.jobs.entries import BLANKS, Counted, is_believed, read_entry, read_quantity
from sleevewright.jobs.field import Field
from sleevewright.jobs.fields import fields_of
from sleevewright.jobs.model import Entry
from sleevewright.jobs.places import Place
from sleevewright.jobs.problems import Findings, key_of

Cells = tuple[tuple[Entry | None, ...], ...]

READING_UNITS = {"inch": "thou", "metric": "µm"}
"""What a reading with a sign and no unit is counted in, by the units of the job."""

SIZE_UNITS = {"inch": "in", "metric": "mm"}


def read_grid(
    raw: dict[str, object],
    place: Place,
    findings: Findings,
    *,
    nominal: object,
) -> dict[str, object]:
    """Stations, directions, readings and temperatures of one grid."""
    size = nominal.value if isinstance(nominal, Entry) else None
    reader = _Reader(findings, size)
    values: dict[str, object] = {}
    for key in ("stations", "directions"):
        if key in raw:
            values[key] = reader.listed(key, raw[key], (*place, key))
    for key in ("readings", "temperatures"):
        if key in raw:
            values[key] = reader.rows(key, raw[key], (*place, key))
    return values


class _Reader:
    """What the cells of one grid have in common."""

    def __init__(self, findings: Findings, nominal: float | None) -> None:
        self.findings = findings
        self.nominal = nominal
        self.fields = fields_of("grid")

    def listed(self, key: str, raw: object, place: Place) -> tuple[Entry, ...]:
        """Depths or angles in a list."""
        field = self.fields[key]
        if not isinstance(raw, list):
            self._expected(field, place)
            return ()
        found = [
            read_entry(field, said, (*place, index), self.findings)
            for index, said in enumerate(raw)
        ]
        for index, entry in enumerate(found):
            if entry is None and isinstance(raw[index], str) and raw[index].strip() in BLANKS:
                self.findings.add((*place, index), f"{key_of(place)}: a blank has no place here.")
        return tuple(entry for entry in found if entry is not None)

    def rows(self, key: str, raw: object, place: Place) -> Cells:
        """Readings or temperatures, a row for each station."""
        field = self.fields[key]
        if not isinstance(raw, list) or not all(isinstance(row, list) for row in raw):
            self._expected(field, place)
            return ()
        read = self._reading if key == "readings" else self._temperature
        return tuple(
            tuple(read(field, said, (*place, down, across)) for across, said in enumerate(row))
            for down, row in enumerate(raw)
        )

    def _expected(self, field: Field, place: Place) -> None:
        told = f"{key_of(place)}: a list is expected, as {field.key} = {field.example}."
        self.findings.add(place, told)

    def _temperature(self, field: Field, said: object, place: Place) -> Entry | None:
        return read_entry(field, said, place, self.findings)

    def _reading(self, field: Field, said: object, place: Place) -> Entry | None:
        """One reading: a whole size, or with a sign what it is over the nominal."""
        if not isinstance(said, str):
            bare = f"{clipped(str(said))} stands without quotes"
            told = f'{key_of(place)}: {bare}; write it as typed, "+0.8".'
            self.findings.add(place, told)
            return None
        text = said.strip()
        if text in BLANKS:
            return None
        if self.nominal is None and text[0] in "+-\N{MINUS SIGN}":
            told = f"{key_of(place)}: {clipped(text)} is over what? Give the grid its nominal."
            self.findings.add(place, told)
            return None
        units = SIZE_UNITS if self.nominal is None else READING_UNITS
        counted = Counted(units[self.findings.system], self.nominal)
        spoken = read_quantity(field, said, place, self.findings, counted)
        if spoken is None:
            return None
        if not is_believed(field, spoken, place, self.findings):
            return None
        return Entry(spoken.value, said, field.kind, spoken.doubt)
