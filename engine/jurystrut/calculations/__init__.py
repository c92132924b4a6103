"""Pure functions on numbers: no files, no rules, no printing. SI inside unless a docstring says otherwise."""
