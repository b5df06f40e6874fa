"""A core as a folder or zip: core.json, its engine sheet and photos, each with its hash. No database."""

from .archive import export_zip
from .folder import CORE_FILE, SHEET_FILE, Bundle, read_core, write_core
from .judging import check_fits_in_folder, judge_folder, limits_of_folder
from .readings_csv import add_readings

__all__ = [
    "CORE_FILE",
    "SHEET_FILE",
    "Bundle",
    "add_readings",
    "check_fits_in_folder",
    "export_zip",
    "judge_folder",
    "limits_of_folder",
    "read_core",
    "write_core",
]
