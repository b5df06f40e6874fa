"""Files that a person may have written: their text, and JSON of a known form, or words on what is wrong."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import TypeVar

from pydantic import ValidationError

from inspect_app.model.frozen import Frozen
from inspect_app.model.problems import Problem, Problems, from_validation, raise_if_any

Form = TypeVar("Form", bound=Frozen)


def read_text(path: Path, advice: str) -> str:
    """The text of a file a person may have written. Raises Problems when it is no file or no text."""
    try:
        return path.read_text(encoding="utf-8-sig")
    except (FileNotFoundError, NotADirectoryError):
        raise Problems([Problem(str(path), "there is no such file.", advice)]) from None
    except OSError as error:
        what = f"it cannot be read: {error.strerror}."
        raise Problems([Problem(str(path), what, advice)]) from None
    except UnicodeDecodeError:
        what = "it cannot be read: it is not text in UTF-8."
        raise Problems([Problem(str(path), what, "Save it in UTF-8.")]) from None


def read_json(path: Path, form: type[Form], advice: str) -> Form:
    """A JSON file of this form. Raises Problems with everything that does not fit it."""
    text = read_text(path, advice)
    try:
        data = json.loads(text, parse_constant=_no_number)
    except (ValueError, RecursionError) as error:
        raise Problems([Problem(path.name, f"this is not JSON: {error}.", "Mend the line named.")]) from None
    try:
        read = form.model_validate(data)
    except ValidationError as error:
        raise Problems(from_validation(error, path.name)) from None
    raise_if_any([*_half_letters(path.name, text, data)])
    return read


def _half_letters(file: str, text: str, data: object) -> Iterator[Problem]:
    """Escapes that are half of a letter pass as text until somebody prints or writes them."""
    if "\\ud" in text.lower():
        try:
            json.dumps(data, ensure_ascii=False).encode()
        except UnicodeEncodeError as error:
            half = ascii(error.object[error.start])
            yield Problem(file, f"a text holds half a letter, {half}.", "Type the text again.")


def _no_number(word: str) -> float:
    raise ValueError(f"{word} is no number")
