"""Sets one paper, in a process of its own with bounds that the system keeps; `typeset` runs it by its path.

It reads its job as JSON from standard input and writes back a line of JSON and the bytes of what it made. It
imports nothing of the program; the template sees the folder that the job names, and no other file.
"""

import json
import sys
from typing import Any, BinaryIO


def main() -> None:
    """Read the job, set it, write the result."""
    job = json.load(sys.stdin.buffer)
    _bound(job["memory"], job["seconds"])
    _write(sys.stdout.buffer, *_set(job))


def _bound(memory: int, seconds: int) -> None:
    """Bound memory and processor time where the system can; the parent watches the clock everywhere."""
    try:
        import resource
    except ImportError:
        return
    bounds = ((resource.RLIMIT_AS, memory), (resource.RLIMIT_CPU, seconds), (resource.RLIMIT_CORE, 0))
    for what, most in bounds:
        try:
            resource.setrlimit(what, (most, most))
        except (ValueError, OSError):
            # Some systems refuse the bound on addresses; the others still hold.
            continue


def _set(job: dict[str, Any]) -> tuple[dict[str, Any], list[bytes]]:
    import typst

    nowhere = f"{job['folder']}/packages"
    drawn: Any = []
    try:
        compiler = typst.Compiler(
            f"{job['folder']}/main.typ",
            root=job["folder"],
            font_paths=[job["fonts"]],
            ignore_system_fonts=True,
            package_path=nowhere,
            package_cache_path=nowhere,
        )
        pdf: Any = compiler.compile(format="pdf", timestamp=job["timestamp"])
        if job["ppi"]:
            drawn = compiler.compile(format="png", ppi=job["ppi"])
    except typst.TypstError as error:
        return {"error": str(error)}, []
    pages = [drawn] if isinstance(drawn, bytes) else list(drawn)
    return {}, [pdf, *pages]


def _write(out: BinaryIO, told: dict[str, Any], made: list[bytes]) -> None:
    out.write(json.dumps(told | {"sizes": [len(one) for one in made]}).encode() + b"\n")
    out.writelines(made)
    out.flush()


if __name__ == "__main__":
    main()
