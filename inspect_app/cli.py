"""The command line: serve, judge, fits, papers, sheet, check-rules, import, export, backup, restore, schema.

Exit 0: done; 1: the input is at fault, in words on stderr; 2: wrong usage.
"""

import argparse
import json
import os
import sys
from collections.abc import Sequence
from contextlib import closing
from pathlib import Path
from typing import TypeAlias

from inspect_app import __version__, cli_shop
from inspect_app.model.problems import Problems, raise_if_any
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; returns its exit code."""
    options = _parser().parse_args(arguments)
    try:
        done: int = options.run(options)
        sys.stdout.flush()
    except Problems as problems:
        print(problems, file=sys.stderr)
        return 1
    except BrokenPipeError:
        return _unread()
    except OSError as error:
        print(f"{error.filename or 'file'}: {error.strerror or error}.", file=sys.stderr)
        return 1
    return done


def _unread() -> int:
    """Whoever read the output has enough of it: end without a word, and without one from Python."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="inspect-app", description="Judge the parts of a used engine and say why."
    )
    parser.add_argument("--version", action="version", version=f"inspect-app {__version__}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    _add_serve(commands)
    _add_judge(commands)
    _add_fits(commands)
    _add_papers(commands)
    _add_sheet(commands)
    check = commands.add_parser("check-rules", help="check a folder of rules and run their examples")
    check.add_argument("folder", nargs="?", type=Path, metavar="DIR", help="default: the shipped rules")
    check.add_argument("--overlay", action="append", type=Path, default=[], metavar="DIR", help=_OVERLAY)
    check.add_argument("--matrix", action="store_true", help="print what the rules speak of, cell by cell")
    check.set_defaults(run=_check_rules)
    _add_import(commands)
    export = commands.add_parser("export", help="write a core as one zip")
    export.add_argument("core", type=Path, metavar="CORE")
    export.add_argument("target", type=Path, metavar="OUT.zip")
    cli_shop.add_shop(export, _IN_SHOP)
    export.set_defaults(run=_export)
    _add_shop_commands(commands)
    schema = commands.add_parser("schema", help="print a JSON Schema")
    schema.add_argument("of", choices=("core", "sheet", "rules", "answer", "fits"))
    schema.set_defaults(run=_schema)
    return parser


_OVERLAY = "a shop's folder that replaces entries by id; may be given more than once"
_IN_SHOP = "a shop file; CORE is then the id of a core in it"
_SHOP = f"default: {cli_shop.USUAL} in this folder"
_Commands: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"


def _add_serve(commands: _Commands) -> None:
    serve = commands.add_parser("serve", help="work on a shop file in the browser, on this machine")
    cli_shop.add_shop(serve, f"{_SHOP}, made with the demo cores where it is not there")
    serve.add_argument("--cores", type=Path, metavar="DIR", help="bring in every core of this folder first")
    serve.add_argument("--port", type=int, help="default: 8501, or the next free one")
    serve.add_argument("--share", action="store_true", help="let paired phones in the same network in too")
    _add_rules(serve)
    serve.set_defaults(run=_serve, usual_shop=True)


def _add_judge(commands: _Commands) -> None:
    judge = commands.add_parser("judge", help="judge one core from its folder")
    judge.add_argument("core", type=Path, metavar="CORE")
    cli_shop.add_shop(judge, _IN_SHOP)
    judge.add_argument("--json", action="store_true", help="print the Answer as JSON")
    _add_rules(judge)
    judge.set_defaults(run=_judge)


def _add_fits(commands: _Commands) -> None:
    fits = commands.add_parser("fits", help="check how the parts of a core fit together, and what to change")
    fits.add_argument("core", type=Path, metavar="CORE")
    cli_shop.add_shop(fits, _IN_SHOP)
    fits.add_argument("--json", action="store_true", help="print the fit check as JSON")
    _add_rules(fits)
    fits.set_defaults(run=_fits)


def _add_papers(commands: _Commands) -> None:
    papers = commands.add_parser("papers", help="write the papers of a core that can be handed out")
    papers.add_argument("core", type=Path, metavar="CORE")
    papers.add_argument("--out", type=Path, required=True, metavar="DIR", help="made where it is not there")
    cli_shop.add_shop(papers, _IN_SHOP)
    _add_rules(papers)
    papers.set_defaults(run=_papers)


def _add_import(commands: _Commands) -> None:
    add = commands.add_parser(
        "import", help="bring a core's folder or zip into the shop file, or add readings"
    )
    add.add_argument("core", type=Path, metavar="CORE")
    cli_shop.add_shop(add, f"{_SHOP}; with --readings: {_IN_SHOP}")
    add.add_argument("--who", help="who brings it in; default: the user of this machine")
    add.add_argument(
        "--readings", type=Path, metavar="F.csv", help="add these readings to CORE, a folder or an id"
    )
    _add_rules(add)
    add.set_defaults(run=_import, usual_shop=True)


def _add_shop_commands(commands: _Commands) -> None:
    backup = commands.add_parser("backup", help="write the shop file, while in use, to one new file")
    backup.add_argument("target", type=Path, metavar="OUT")
    restore = commands.add_parser("restore", help="put a backup in the place of the shop file, which is kept")
    restore.add_argument("backup", type=Path, metavar="BACKUP")
    check = commands.add_parser("check-shop", help="look over a whole shop file, every photo's hash too")
    for command, run in (
        (backup, cli_shop.run_back_up),
        (restore, cli_shop.run_restore),
        (check, cli_shop.run_check_shop),
    ):
        cli_shop.add_shop(command, _SHOP)
        command.set_defaults(run=run)


def _add_sheet(commands: _Commands) -> None:
    sheet = commands.add_parser("sheet", help="check an engine sheet and print it to read against the manual")
    sheet.add_argument("source", type=Path, metavar="IN.csv|IN.json")
    sheet.add_argument(
        "--to", type=Path, metavar="OUT.csv|OUT.json", help="write it to a new file, in its form"
    )
    _add_rules(sheet)
    sheet.set_defaults(run=_sheet)


def _add_rules(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--rules", type=Path, metavar="DIR", help="another rule pack than the shipped one")
    parser.add_argument("--overlay", action="append", type=Path, default=[], metavar="DIR", help=_OVERLAY)


def _serve(options: argparse.Namespace) -> int:
    from inspect_app.ui.serve import free_port, serve
    from inspect_app.ui.shelf import Shelf
    from inspect_app.ui.shop_sessions import ShopSessions

    book = _rulebook(options)
    port = free_port(options.port, options.share)
    with (
        cli_shop.shop_for_serving(options, book) as shop,
        closing(Shelf(shop, lambda: _rulebook(options))) as cores,
    ):
        serve(cores, port, share=options.share, sessions=ShopSessions(shop))
    return 0


def _judge(options: argparse.Namespace) -> int:
    from inspect_app.answer_text import answer_text
    from inspect_app.bundle import judge_folder

    book = _rulebook(options)
    answer = cli_shop.judge_in_shop(options, book) if options.shop else judge_folder(options.core, book)
    print(answer.model_dump_json(indent=1) if options.json else answer_text(answer))
    return 0


def _fits(options: argparse.Namespace) -> int:
    from inspect_app.bundle import check_fits_in_folder
    from inspect_app.fit_text import fit_text

    book = _rulebook(options)
    if options.shop:
        answer = cli_shop.fits_in_shop(options, book)
    else:
        answer = check_fits_in_folder(options.core, book)
    print(answer.model_dump_json(indent=1) if options.json else fit_text(answer))
    return 0


def _papers(options: argparse.Namespace) -> int:
    from inspect_app.cli_papers import run_papers

    return run_papers(options, _rulebook(options))


def _sheet(options: argparse.Namespace) -> int:
    from inspect_app.bundle.sheet_file import read_typed_sheet, write_sheet
    from inspect_app.bundle.sheet_view import sheet_text
    from inspect_app.rulebook.check_sheet import sheet_problems

    book = _rulebook(options)
    typed = read_typed_sheet(options.source)
    raise_if_any([*typed.problems, *sheet_problems(book, typed.sheet, typed.spot)])
    if options.to is not None:
        write_sheet(typed.sheet, options.to)
    print(sheet_text(typed, book))
    if options.to is not None:
        print(f"\nWrote {options.to}.")
    return 0


def _rulebook(options: argparse.Namespace) -> Rulebook:
    overlays = [*options.overlay, *cli_shop.own_rules(options)]
    return load_rulebook(options.rules or shipped("rules"), overlays)


def _check_rules(options: argparse.Namespace) -> int:
    from inspect_app.closing.examples import run_examples
    from inspect_app.rulebook.check_couplings import largest_table
    from inspect_app.rulebook.check_unruled import empty_problems
    from inspect_app.rulebook.matrix_text import summary, tables

    book = load_rulebook(options.folder or shipped("rules"), options.overlay)
    for line in tables(book) if options.matrix else summary(book):
        print(line)
    raise_if_any([*empty_problems(book), *run_examples(book)])
    examples = sum(len(rule.example) for rule in book.rules.values())
    size, at = largest_table(book)
    print(
        f"{book.pack.title}, version {book.pack.version}: {len(book.parts)} parts, {len(book.rules)} rules,"
    )
    print(f"{len(book.couplings)} couplings, {len(book.limits)} limits, {len(book.prices)} prices.")
    print(f"All {examples} examples hold. Largest joint table: {size} entries ({', '.join(sorted(at))}).")
    return 0


def _import(options: argparse.Namespace) -> int:
    return cli_shop.run_import(options, _rulebook(options))


def _export(options: argparse.Namespace) -> int:
    from inspect_app.bundle import export_zip

    if options.shop:
        cli_shop.export_from_shop(options)
    else:
        export_zip(options.core, options.target)
    print(f"Wrote {options.target}.")
    return 0


def _schema(options: argparse.Namespace) -> int:
    from inspect_app.schemas import schema

    print(json.dumps(schema(options.of), indent=1, ensure_ascii=False))
    return 0
