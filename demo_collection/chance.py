"""Seeded chance: one stream of numbers a question, so that changing one object leaves the others alone."""

from __future__ import annotations

import random

SEED = 20270101


def stream(*names: object) -> random.Random:
    """Return the stream of a question, the same on every machine (seeded by text, through SHA-512)."""
    return random.Random("/".join(str(n) for n in (SEED, *names)))


def pick(chance: random.Random, weights: tuple[float, ...]) -> int:
    """Return an index with the given weights, from one number of the stream."""
    left = chance.random() * sum(weights)
    for index, weight in enumerate(weights):
        left -= weight
        if left < 0:
            return index
    return len(weights) - 1
