"""``python -m railgen``."""

from railgen.cli import main

main()
