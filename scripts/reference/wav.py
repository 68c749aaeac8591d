"""Reading of WAV files as arrays, a part at a time."""
import struct

import numpy as np

EXTENSIBLE = 0xFFFE


class Wav:
    """A RIFF file of integer samples (16, 24 or 32 bit) or floats (32 bit), read by frames."""

    def __init__(self, path):
        self.path = path
        with open(path, "rb") as file:
            if file.read(12)[::8] != b"RW":
                raise ValueError(f"{path} is not a WAV file; give the takes as WAV")
            while True:
                head = file.read(8)
                if len(head) < 8:
                    raise ValueError(f"{path} has no sample data; record it again")
                name, size = struct.unpack("<4sI", head)
                if name == b"data":
                    break
                body = file.read(size + size % 2) if name == b"fmt " else file.seek(size + size % 2, 1)
                if name == b"fmt ":
                    tag, self.channels, self.rate, _, self.width, bits = struct.unpack_from("<HHIIHH", body)
                    # The first two octets of an extensible format's identifier are the plain tag.
                    tag = struct.unpack_from("<H", body, 24)[0] if tag == EXTENSIBLE else tag
            self.offset, self.frames = file.tell(), size // self.width
        self.octets, self.is_float = bits // 8, tag == 3
        if (tag, bits) not in ((1, 16), (1, 24), (1, 32), (3, 32)):
            raise ValueError(f"{path} holds {bits}-bit samples of kind {tag}; give 16, 24 or 32 bit PCM or 32-bit float")

    def read(self, channel, start=0, count=None):
        """Frames of one channel (counted from 1) as floats relative to full scale."""
        return self.read_channels((channel,), start, count)[0]

    def read_channels(self, channels, start=0, count=None):
        """The same frames of several channels, one array each; fewer at the end of the file."""
        count = max(0, min(self.frames - start, self.frames if count is None else count))
        # A sample is the top of the 32-bit word that ends with it, so the words of 24-bit samples overlap.
        before = 4 - self.octets
        raw = np.fromfile(self.path, np.uint8, count * self.width + before, offset=self.offset + start * self.width - before)
        kind = "<f4" if self.is_float else "<i4"
        words = [np.ndarray(count, kind, raw, (channel - 1) * self.octets, (self.width,)) for channel in channels]
        if self.is_float:
            return [w.astype(float) for w in words]
        return [(w & (-1 << 8 * before)) * 2.0**-31 for w in words]

    def chunks(self, channels, frames, start=0, end=None):
        """Stretches of the given length from start to end, each a list of one array per channel."""
        end = self.frames if end is None else end
        for at in range(start, end, frames):
            yield self.read_channels(channels, at, min(frames, end - at))

    def segments(self, channels, length, start, end, batch=4):
        """Half-overlapping segments between two frames, in batches of rows, one array per channel."""
        hop = length // 2
        for at in range(start, end - length + 1, batch * hop):
            parts = self.read_channels(channels, at, min((batch + 1) * hop, end - at))
            yield [np.lib.stride_tricks.sliding_window_view(x, length)[::hop] for x in parts]
