"""Pattern -> worked pattern: gauge, rows, size, yarn, filling, time, colour.

Pure: no clock, no disk, no random without a seed.
"""
