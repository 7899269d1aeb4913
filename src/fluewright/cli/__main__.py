"""``python -m fluewright.cli``."""

from fluewright.cli import main

main()
