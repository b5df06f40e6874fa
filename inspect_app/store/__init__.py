"""The shop file: every core, its evidence and photos in one SQLite file that only ever grows."""

from .backup import back_up, restore
from .bundles_in import Imported, import_bundle
from .bundles_out import export_core, export_core_zip
from .checking import check_shop_file
from .cores import (
    HeldCore,
    add_core,
    cores_of_sheet,
    load_core,
    records_of,
    revise_core,
    standing_of,
    titles,
)
from .drafts import Draft, Mark, confirm_draft, discard_draft, drafts_of, save_draft
from .evidence import add_evidence
from .families import Family, families
from .file import ShopFile, create_shop_file, open_shop_file
from .judgements import drop_judgements, judge_core
from .pairing import PairedPhone, add_paired, find_paired, note_seen, paired_phones, revoke_paired
from .photos import (
    PhotoHeld,
    Preview,
    add_photo,
    keep_preview,
    photos_of,
    picture_of,
    preview_of,
    previews_about,
    sha256_of,
)
from .rack import Counted, RackRow, rack, row_judged
from .records import Record
from .words import Busy, Damaged, DiskFull, DiskTrouble, NewerShopFile, NotAShopFile, ReadOnly
from .zips import Limits

__all__ = [
    "Busy",
    "Counted",
    "Damaged",
    "DiskFull",
    "DiskTrouble",
    "Draft",
    "Family",
    "HeldCore",
    "Imported",
    "Limits",
    "Mark",
    "NewerShopFile",
    "NotAShopFile",
    "PairedPhone",
    "PhotoHeld",
    "Preview",
    "RackRow",
    "ReadOnly",
    "Record",
    "ShopFile",
    "add_core",
    "add_evidence",
    "add_paired",
    "add_photo",
    "back_up",
    "check_shop_file",
    "confirm_draft",
    "cores_of_sheet",
    "create_shop_file",
    "discard_draft",
    "drafts_of",
    "drop_judgements",
    "export_core",
    "export_core_zip",
    "families",
    "find_paired",
    "import_bundle",
    "judge_core",
    "keep_preview",
    "load_core",
    "note_seen",
    "open_shop_file",
    "paired_phones",
    "photos_of",
    "picture_of",
    "preview_of",
    "previews_about",
    "rack",
    "records_of",
    "restore",
    "revise_core",
    "revoke_paired",
    "row_judged",
    "save_draft",
    "sha256_of",
    "standing_of",
    "titles",
]
