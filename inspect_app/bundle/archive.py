"""A core's folder as one zip, with the same bytes and hashes."""

import os
import tempfile
import zipfile
from pathlib import Path

from inspect_app.model.problems import Problem, Problems

from .folder import CORE_FILE, give_usual_rights, read_core

_EPOCH = (1980, 1, 1, 0, 0, 0)


def export_zip(folder: Path, target: Path) -> None:
    """Write core.json and every file it lists into `target`, all or nothing.

    The same folder always gives the same bytes. Raises Problems when the core is broken or `target`
    already exists.
    """
    core = read_core(folder).core
    if target.exists():
        raise Problems([Problem(str(target), "this file is there already.", "Name a new one.")])
    handle, temporary = tempfile.mkstemp(dir=target.resolve().parent, prefix=".export-", suffix=".zip")
    try:
        with os.fdopen(handle, "wb") as raw, zipfile.ZipFile(raw, "w", zipfile.ZIP_DEFLATED) as archive:
            for name in (CORE_FILE, *sorted(entry.path for entry in core.files)):
                entry = zipfile.ZipInfo(name, _EPOCH)
                entry.compress_type = zipfile.ZIP_DEFLATED
                archive.writestr(entry, (folder / name).read_bytes())
        give_usual_rights(temporary, target)
        os.replace(temporary, target)
    except BaseException:
        Path(temporary).unlink(missing_ok=True)
        raise
