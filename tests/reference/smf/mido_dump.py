"""Prints the channel messages of a MIDI file, merged over its tracks: seconds and bytes in hex.

The independent reading that the reference test compares with: python3-mido merges the tracks and
applies the tempo map itself.
"""
import sys

import mido

seconds = 0.0
for message in mido.MidiFile(sys.argv[1]):
    seconds += message.time
    if not message.is_meta and message.type != "sysex":
        print(f"{seconds:.9f} {bytes(message.bytes()).hex()}")
