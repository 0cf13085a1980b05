"""`python -m stripewright` is the `stripewright` command."""

from stripewright.cli import main

main()
