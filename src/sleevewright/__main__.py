"""``python -m sleevewright``: the command line."""

from sleevewright.cli.main import main

if __name__ == "__main__":
    main()
