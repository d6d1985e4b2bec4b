"""Pictures drawn from the data as inline SVG, each with its text alternative.

Colours are classes of the stylesheet, so a picture follows the page's look; nothing carries a
style of its own, which a strict policy would refuse. A unit of a picture is a pixel on a phone
360 pixels wide, so text of 16 is read as 16.
"""

from refgen.pictures.curves import curves_of
from refgen.pictures.gauge_face import gauge_of
from refgen.pictures.jets import jets_picture
from refgen.pictures.of_tables import of_table
from refgen.pictures.svg import Drawn
from refgen.pictures.walk import pressure_walk, walk_of

__all__ = [
    "Drawn",
    "curves_of",
    "gauge_of",
    "jets_picture",
    "of_table",
    "pressure_walk",
    "walk_of",
]
