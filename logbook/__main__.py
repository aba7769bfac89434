"""The entry point of the command `logbook`."""
from __future__ import annotations
import sys
def main() -> int:
    from logbook.cli.app import run
    return run(sys.argv[1:])
if __name__ == "__main__":
    sys.exit(main())
