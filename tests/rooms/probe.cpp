// Compiled by no build: the targets rooms_probe_<room> exist for their flags (see includes_test.py).
