"""The templates of pages: what fills them, and what they may call."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import Any

import jinja2

from refgen import comparison, handbooks, lessons, listings, marks, news, pictures, rigs
from refgen.errors import RefgenError


@lru_cache(maxsize=2)
def environment_of(templates: Path) -> jinja2.Environment:
    """Return what fills the templates; it reads those anew that have changed since."""
    environment = jinja2.Environment(
        loader=jinja2.FileSystemLoader(templates),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.globals.update(
        listing=listings,
        picture=pictures,
        teach=lessons,
        beside=comparison,
        book=handbooks,
        marks=marks,
        news=news,
        rigs=rigs,
    )
    return environment


def fill(environment: jinja2.Environment, template: str, who: str, **values: Any) -> str:
    """Return a template filled with values.

    Raises:
        RefgenError: If the template is wrong, or wants what is not there; `who` is being set.
    """
    try:
        return environment.get_template(template).render(**values)
    except jinja2.TemplateSyntaxError as error:
        raise RefgenError(f"{error.filename}:{error.lineno}: {error.message}") from error
    except jinja2.TemplateError as error:
        line = _line_of(error)
        raise RefgenError(f"{template}{line}: {error} (while setting {who})") from error


def _line_of(error: Exception) -> str:
    """Return ':line' of the template in which an error arose, if the traceback tells."""
    line, trace = "", error.__traceback__
    while trace is not None:
        if trace.tb_frame.f_code.co_filename.endswith(".html"):
            line = f":{trace.tb_lineno}"
        trace = trace.tb_next
    return line
