"""Plays step_machine at a terminal: keys without enter, and the terminal as it was at the end.

usage: keyboard.py STEP_MACHINE SCENARIO
"""

import os
import pty
import subprocess
import sys
import termios

ours, terminal = pty.openpty()
before = termios.tcgetattr(terminal)
player = subprocess.Popen(sys.argv[1:3], stdin=terminal, stdout=subprocess.PIPE)
seen = b""


def press(key, until):
    """A key, and what has to come after it."""
    global seen
    os.write(ours, key)
    while until not in seen:
        more = os.read(player.stdout.fileno(), 4096)
        if not more:
            sys.exit(f"step_machine ended before {until!r}")
        seen += more


press(b"s", b"drive_on")
press(b"c", b"cancelled")
os.write(ours, b"q")
player.communicate()
if player.returncode != 0 or termios.tcgetattr(terminal) != before:
    sys.exit("step_machine does not leave the terminal as it was")
