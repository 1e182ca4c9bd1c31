"""Run the command line with ``python -m mockup``."""

from mockup.cli import main

if __name__ == "__main__":
    main()
