"""How the tests are run: parts, lanes, a screen, a place apart, and an honest ending."""
