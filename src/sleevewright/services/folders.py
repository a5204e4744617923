"""Where the data lie: as the command says, as the environment says, or in the system's place."""

from __future__ import annotations

import os
from pathlib import Path

VARIABLE = "SLEEVEWRIGHT_DATA"
"""Environment variable that names the data folder."""

NAME = "sleevewright"


def data_folder(option: Path | None = None) -> Path:
    """The data folder that is meant; it is not made here.

    Parameters
    ----------
    option : Path | None
        What the command was told, if anything.

    Returns
    -------
    Path
        An absolute path.
    """
    if option is not None:
        return option.expanduser().absolute()
    told = os.environ.get(VARIABLE, "").strip()
    if told:
        return Path(told).expanduser().absolute()
    from platformdirs import user_data_path

    return user_data_path(NAME, appauthor=False)
