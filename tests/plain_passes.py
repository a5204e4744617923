"""The closed loop of boring passes once more, job by job over plain floats, as written on paper.

It is the second writing of what ``closed_loop`` does to arrays: tests compare the two to the
last bit, and the benchmark of passes measures what arrays save.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from sleevewright.core.cutting.pass_study import StudyShop

Rows = Sequence[Sequence[Sequence[float]]]


def plain_closed_loop(shop: StudyShop, rows: Rows) -> list[tuple[float, float, float, float]]:
    """True bore, passes, believed bore and its variance of each job."""
    return [_one_job(shop, rows, job) for job in range(len(rows[0][0]))]


def _one_job(shop: StudyShop, rows: Rows, job: int) -> tuple[float, float, float, float]:
    """One job from its start to where it stops."""
    low, high = shop.aim - shop.half_width, shop.aim + shop.half_width
    cut2, gauge2 = shop.cut_repeat * shop.cut_repeat, shop.gauge_repeat * shop.gauge_repeat
    share = shop.share + shop.share_spread * rows[0][0][job]
    offset = shop.offset_spread * rows[0][1][job]
    bore = shop.aim - shop.start_stock - shop.stock_spread * rows[1][0][job]
    size = bore + shop.gauge_repeat * rows[1][1][job]
    s, t, p = shop.share, 0.0, gauge2
    pss, pst = shop.share_spread * shop.share_spread, 0.0
    ptt = shop.offset_spread * shop.offset_spread
    passes = 0.0
    for number, (cutting, reading) in enumerate(rows[2:]):
        aim = shop.aim - shop.leave[number] if number < len(shop.leave) else shop.aim
        if not size - shop.under_deviate * math.sqrt(p) < low:
            continue
        loose = 1.0 - s
        spring = loose * loose * p + cut2
        x = (aim - size - t) / s
        q = (pss * x + pst) * x + (pst * x + ptt) + spring
        x = min(x, (high - shop.risk_deviate * math.sqrt(q) - size - t) / s)
        if not x > 0.0:
            continue
        hs, ht = pss * x + pst, pst * x + ptt
        after = hs * x + ht + spring
        bore = bore + (share * (size + x - bore) + offset + shop.cut_repeat * cutting[job])
        expected = size + (s * x + t)
        whole = after + gauge2
        surprise = (bore + shop.gauge_repeat * reading[job] - expected) / whole
        size, p = expected + after * surprise, after * gauge2 / whole
        s, t = s + hs * surprise, t + ht * surprise
        pss, pst, ptt = pss - hs * hs / whole, pst - hs * ht / whole, ptt - ht * ht / whole
        passes += 1.0
    return bore, passes, size, p
