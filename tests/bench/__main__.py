"""Time everything once more: `python -m tests.bench`. Exit 1 when a ratio is above its bound."""

import os
import sys

from .benches import Result, benches, measured


def line(result: Result) -> str:
    bench = result.bench
    guide = f", guide {1000 * bench.guide:.0f} ms" if bench.guide else ""
    return (
        f"{bench.name}: {1000 * result.seconds:.1f} ms{guide}; {bench.floor_name}: "
        f"{1000 * result.floor:.2f} ms; ratio {result.ratio:.1f}, at most {bench.at_most:g}"
        f"{'' if result.holds else '  ABOVE ITS BOUND'}"
    )


def main() -> int:
    """Print a line for each bench, medians of five; returns the exit code."""
    print(f"Load average {' '.join(f'{load:.2f}' for load in os.getloadavg())}, {os.cpu_count()} processors.")
    results = []
    for bench in benches():
        results.append(measured(bench))
        print(line(results[-1]), flush=True)
    return 0 if all(result.holds for result in results) else 1


if __name__ == "__main__":
    sys.exit(main())
