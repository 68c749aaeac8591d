"""Reading of WAV files as arrays, a part at a time."""
import struct

import numpy as np


class Wav:
    """A RIFF file of integer samples (16, 24 or 32 bit) or floats (32 bit), read by frames."""

    def __init__(self, path):
        self.path = path
        with open(path, "rb") as file:
            if file.read(12)[::8] != b"RW":
                raise ValueError(f"{path} is not a WAV file")
            while True:
                name, size = struct.unpack("<4sI", file.read(8))
                if name == b"fmt ":
                    tag, self.channels, self.rate, _, self.width, bits = struct.unpack("<HHIIHH", file.read(16))
                    size -= 16
                elif name == b"data":
                    break
                file.seek(size + size % 2, 1)
            self.offset, self.frames = file.tell(), size // self.width
        self.octets, self.is_float = bits // 8, tag == 3

    def read(self, channel, start=0, count=None):
        """Frames of one channel (counted from 1) as floats relative to full scale."""
        count = min(self.frames - start, self.frames if count is None else count)
        # A sample is the top of the 32-bit word that ends with it, so the words of 24-bit samples overlap.
        before = 4 - self.octets
        raw = np.fromfile(self.path, np.uint8, count * self.width + before, offset=self.offset + start * self.width - before)
        words = np.ndarray(count, "<f4" if self.is_float else "<i4", raw, (channel - 1) * self.octets, (self.width,))
        if self.is_float:
            return words.astype(float)
        return (words & (-1 << 8 * before)) * 2.0**-31

    def segments(self, channel, length, start, batch=4):
        """Half-overlapping segments of a channel, in batches of rows."""
        hop = length // 2
        for at in range(start, self.frames - length + 1, batch * hop):
            x = self.read(channel, at, (batch + 1) * hop)
            yield np.lib.stride_tricks.sliding_window_view(x, length)[::hop]
