"""JSON Schemas of everything a person or another program writes or reads."""

from typing import Any

from pydantic.json_schema import models_json_schema

from inspect_app.model.answer import Answer
from inspect_app.model.core import Core
from inspect_app.model.fit_answer import FitAnswer
from inspect_app.model.frozen import Frozen
from inspect_app.model.sheet import EngineSheet
from inspect_app.rulebook.book import SINGLE, TABLES

_DIALECT = "https://json-schema.org/draft/2020-12/schema"


def schema(of: str) -> dict[str, Any]:
    """The schema of "core", "sheet", "rules" (one TOML file), "answer" or "fits" (a fit check)."""
    if of == "rules":
        return _rules_schema()
    models: dict[str, type[Frozen]] = {
        "core": Core,
        "sheet": EngineSheet,
        "answer": Answer,
        "fits": FitAnswer,
    }
    mode: Any = "serialization" if of in ("answer", "fits") else "validation"
    return {"$schema": _DIALECT} | models[of].model_json_schema(mode=mode, by_alias=True)


def _rules_schema() -> dict[str, Any]:
    """A rule file: any of the tables; all but the single ones are lists of entries."""
    names, definitions = models_json_schema([(form, "validation") for form in TABLES.values()], by_alias=True)
    properties = {}
    for table, form in TABLES.items():
        entry = names[(form, "validation")]
        properties[table] = entry if table in SINGLE else {"type": "array", "items": entry}
    return {
        "$schema": _DIALECT,
        "title": "Rule file",
        "type": "object",
        "additionalProperties": False,
        "properties": properties,
    } | definitions
