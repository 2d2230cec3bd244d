"""Writes the recordings of this folder with pyvcd 0.4.1 (PyPI), which is not ours: python tests/traces/make.py"""

import pathlib

from vcd import VCDWriter

here = pathlib.Path(__file__).parent


def flashes(period, lit, pulses, gap, count, start):
    """Times in ms at which a light of so many pulses a flash goes on and off."""
    for n in range(count):
        for pulse in range(pulses):
            on = start + n * period + pulse * (lit + gap)
            yield on, 1
            yield on + lit, 0


with open(here / "two-lamps.vcd", "w") as file, VCDWriter(file, timescale="1 ms", date="today") as writer:
    top = writer.register_var("model.fuselage", "top", "wire", size=1, init=0)
    tips = writer.register_var("model.wing.outer", "tips", "reg", size=4, init=0)
    tail = writer.register_var("model", "tail", "real", init=0.02)
    # The beacon is written as 1500 ms and runs 1 % slow; the tips are as written, 1280 ms with two pulses of 50 ms.
    changes = [(time, top, value) for time, value in flashes(1515, 100, 1, 0, 12, 400)]
    changes += [(time, tips, 0b1010 * value) for time, value in flashes(1280, 50, 2, 100, 14, 700)]
    changes += [(time, tail, 3.1 if value else 0.02) for time, value in flashes(1280, 50, 2, 100, 14, 700)]
    for time, variable, value in sorted(changes, key=lambda change: change[0]):
        writer.change(variable, time, value)
    writer.close(20_000)
