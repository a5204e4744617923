"""Use case: a device is lost or broken, and what it had counted will never come.

Until then every hold of the job waits for it.  Giving up fills each missing number with the
reason and the name of who gave it up; should the device come back after all, its entries
are held back there, with that to read, and nothing is overwritten.
"""

from __future__ import annotations

from sleevewright.errors import StateError
from sleevewright.jobs.holds import refuse_reason
from sleevewright.jobs.records import GIVEN_UP, Draft
from sleevewright.services.bench import Bench
from sleevewright.services.jobs import draft_id, folded_job
from sleevewright.services.people import confirm
from sleevewright.services.signing import Signature

MOST_AT_ONCE = 5000


def give_up_missing(bench: Bench, number: str, device: str, reason: str, *, by: Signature) -> int:
    """Fill the numbers of a device that are missing of a job; how many there were.

    Raises
    ------
    StateError
        If nothing of that device is missing.
    InputError
        If the reason says nothing, or the person or PIN is not right.
    """
    folded = folded_job(bench, number)
    missing = folded.missing_numbers(device)[:MOST_AT_ONCE]
    if not missing:
        raise StateError(number, "whole", "a device of which something is missing")
    words = " ".join(reason.split())
    refuse_reason(words)
    body = {"cylinder": 0, "reason": words, "person": confirm(bench, by.person, by.pin)}
    drafts = [Draft(number, draft_id(), device, count, GIVEN_UP, body) for count in missing]
    bench.store.append(drafts)
    return len(drafts)
