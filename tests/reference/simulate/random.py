"""Writes random.json: numbers of the generator of simulate/random.ts, by whole-number arithmetic of Python.

xoshiro128** 1.1 of Blackman and Vigna, seeded as the documentation of the library says.
Run: python3 random.py > random.json
"""

import json

MASK = 0xFFFFFFFF


def rotate(x, k):
    return ((x << k) | (x >> (32 - k))) & MASK


def finalise(h):
    h = ((h ^ (h >> 16)) * 0x85EBCA6B) & MASK
    h = ((h ^ (h >> 13)) * 0xC2B2AE35) & MASK
    return h ^ (h >> 16)


def numbers(seed, stream, count):
    counter = seed + stream * 0x632BE5AB
    s = [finalise((counter + (i + 1) * 0x9E3779B9) & MASK) for i in range(4)]
    out = []
    for _ in range(count):
        out.append((rotate((s[1] * 5) & MASK, 7) * 9) & MASK)
        t = (s[1] << 9) & MASK
        s[2] ^= s[0]
        s[3] ^= s[1]
        s[1] ^= s[2]
        s[0] ^= s[3]
        s[2] ^= t
        s[3] = rotate(s[3], 11)
    return out


cases = [(0, 0), (1, 0), (1, 1), (42, 2), (4294967295, 7)]
print(json.dumps([{"seed": a, "stream": b, "numbers": numbers(a, b, 8)} for a, b in cases], indent=1))
