"""Which slip of the pencil would explain an impossible size: inches, a radius, a decimal.

Answers with a question for the person who typed, never with a corrected value: nothing is
converted silently.
"""

from __future__ import annotations

_SLIPS: tuple[tuple[float, str], ...] = (
    (2.0, "Was a radius entered for a diameter?"),
    (25.4, "Was it entered in inches?"),
    (1.0 / 25.4, "Was it entered in millimetres where inches were expected?"),
    (10.0, "Did the decimal point slip?"),
    (0.1, "Did the decimal point slip?"),
    (0.0254, "Was it entered in thou where millimetres were expected?"),
    (0.001, "Was a factor of a thousand lost?"),
)


def likely_slip(*, value: float, low: float, high: float) -> str:
    """The question whose factor would bring ``value`` between ``low`` and ``high``.

    Parameters
    ----------
    value : float
        The value that cannot be right. [m]
    low : float
        Least value that would have been plausible. [m]
    high : float
        Greatest value that would have been plausible. [m]

    Returns
    -------
    str
        One question, or an empty text where no common slip explains the value. [text]

    Notes
    -----
    The order of the slips is a judgement. Source: ``practice``.

    Examples
    --------
    >>> likely_slip(value=3.3e-3, low=0.063, high=0.150)
    'Was it entered in inches?'
    """
    for factor, question in _SLIPS:
        if low <= factor * value <= high:
            return question
    return ""
