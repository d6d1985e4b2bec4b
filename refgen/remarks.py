"""What only people read of a script or stylesheet, taken out: no phone needs to wait for it."""

from __future__ import annotations

import re

_OF_STYLES = re.compile(r"/\*.*?\*/", re.DOTALL)


def script_without_remarks(script: str) -> str:
    r"""Return a script without lines that are a remark, empty lines and the space before lines.

    For scripts in which no text runs over the end of a line; there every line begins outside of
    one.

    >>> script_without_remarks('// Opens.\nif (a) {\n  b("// no"); // yes\n}\n')
    'if (a) {\nb("// no"); // yes\n}\n'
    """
    lines = (line.strip() for line in script.split("\n"))
    return "".join(f"{line}\n" for line in lines if line and not line.startswith("//"))


def styles_without_remarks(styles: str) -> str:
    r"""Return a stylesheet without remarks, empty lines and the space before lines.

    For stylesheets in which no text has the signs of a remark in it.

    >>> styles_without_remarks("/* Wide. */\np {\n  margin: 0; /* none */\n}\n")
    'p {\nmargin: 0;\n}\n'
    """
    lines = (line.strip() for line in _OF_STYLES.sub("", styles).split("\n"))
    return "".join(f"{line}\n" for line in lines if line)
