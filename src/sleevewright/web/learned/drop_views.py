"""What the page says of the seconds of the drop: the drops, before and after, what counts."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from markupsafe import Markup

from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.heat.chances import drop_samples
from sleevewright.core.heat.drop_case import DropCase
from sleevewright.core.heat.learned_drops import DropPrior, LearnedDrops
from sleevewright.planning.habit_said import fine
from sleevewright.services.bench import Bench
from sleevewright.services.own_drops import (
    LEAST_DROPS,
    DropAcceptance,
    drop_acceptances,
    own_drops,
)
from sleevewright.services.people import name_of
from sleevewright.web.pictures.form_before_after import FormPicture, form_before_after
