"""Colours by their contrast, and the nearest colour that has enough of it.

How far apart two colours look is measured in Oklab, in which equal steps look equal.

Sources:
    W3C, Web Content Accessibility Guidelines 2.2: relative luminance, contrast ratio, 1.4.6.
    Ottosson (2020), A perceptual color space for image processing: the Oklab matrices.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from itertools import product
from math import cbrt, dist

LEAST_CONTRAST = 7.0
"""Of a text to be read in the sun; level AAA of the guidelines."""

RGB = tuple[int, int, int]


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours written `#rrggbb`, 1 to 21.

    >>> round(contrast("#ffffff", "#000000"), 2), round(contrast("#777777", "#ffffff"), 2)
    (21.0, 4.48)
    """
    light, dark = sorted((_luminance(rgb(one)), _luminance(rgb(other))), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def ink_on(ground: str) -> str:
    """Return black or white, whichever reads better on a ground."""
    return max("#ffffff", "#000000", key=lambda ink: contrast(ink, ground))


def nearest_ground(ground: str, ink: str, least: float = LEAST_CONTRAST) -> str | None:
    """Return the colour most like `ground` on which `ink` has enough contrast.

    None if there is no such colour at all, as with an ink of middling grey.

    >>> nearest_ground("#17404a", "#ffffff"), nearest_ground("#ffffff", "#777777")
    ('#17404a', None)
    """
    if contrast(ground, ink) >= least:
        return ground
    every = range(0, 256, 17)
    coarse = _passing(product(every, every, every), ink, least)
    best = min(coarse, key=_from(place := _oklab(rgb(ground))), default=None)
    while best is not None:  # down the slope from there, until no colour around is nearer
        red, green, blue = (range(max(0, c - 4), min(255, c + 4) + 1) for c in best)
        nearer = min(_passing(product(red, green, blue), ink, least), key=_from(place))
        if nearer == best:
            return _written(best)
        best = nearer
    return None


def _passing(colours: Iterable[RGB], ink: str, least: float) -> Iterator[RGB]:
    return (colour for colour in colours if contrast(_written(colour), ink) >= least)


def _from(place: tuple[float, float, float]) -> Callable[[RGB], tuple[float, RGB]]:
    """Return how far colours lie from a place in Oklab; equal distances go by their numbers."""
    return lambda colour: (dist(place, _oklab(colour)), colour)


def rgb(colour: str) -> RGB:
    """Return red, green and blue of a colour written `#rrggbb`, 0 to 255 each."""
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def _written(colour: RGB) -> str:
    return "#" + "".join(f"{channel:02x}" for channel in colour)


def _linear(colour: Iterable[int]) -> tuple[float, ...]:
    shares = (channel / 255 for channel in colour)
    return tuple(s / 12.92 if s <= 0.04045 else ((s + 0.055) / 1.055) ** 2.4 for s in shares)


def _luminance(colour: RGB) -> float:
    red, green, blue = _linear(colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _oklab(colour: RGB) -> tuple[float, float, float]:
    red, green, blue = _linear(colour)
    long = cbrt(0.4122214708 * red + 0.5363325363 * green + 0.0514459929 * blue)
    middle = cbrt(0.2119034982 * red + 0.6806995451 * green + 0.1073969566 * blue)
    short = cbrt(0.0883024619 * red + 0.2817188376 * green + 0.6299787005 * blue)
    return (
        0.2104542553 * long + 0.7936177850 * middle - 0.0040720468 * short,
        1.9779984951 * long - 2.4285922050 * middle + 0.4505937099 * short,
        0.0259040371 * long + 0.7827717662 * middle - 0.8086757660 * short,
    )
