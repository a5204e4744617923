"""What an address asks of a plan page."""

from __future__ import annotations

from typing import Annotated, Literal

from fastapi import Query
from pydantic import BaseModel, Field

System = Literal["inch", "metric"]


class Question(BaseModel):
    """The part of an address behind its question mark."""

    units: System | None = Field(default=None, description="inch or metric; else the job's own")
    open: str = Field(default="", max_length=2000, description="trail among the seven")
    more: str = Field(default="", max_length=2000, description="trail among everything else")
    part: Literal["", "basis"] = Field(default="", description="the opened basis alone")


Asked = Annotated[Question, Query()]
