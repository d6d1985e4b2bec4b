"""What an mkdocs.yml may say of refgen; the builder reads it."""

from __future__ import annotations

from mkdocs.config import config_options as c
from mkdocs.config.base import Config, ConfigErrors, ConfigWarnings, ValidationError

from refgen.errors import did_you_mean


class RefgenConfig(Config):  # type: ignore[no-untyped-call]  # MkDocs leaves its base untyped
    """Options under `plugins: - refgen:` in mkdocs.yml."""

    layers = c.ListOfItems(c.Type(str), default=["base"])
    """Folders of data, laid over each other in this order; `base` is the one refgen brings."""
    templates = c.Optional(c.Type(str))
    """Folder of page templates, instead of those refgen brings."""
    since = c.Type(str, default="previous")
    """Folder that keeps catalog.json and figures.json of an earlier revision."""

    def validate(self) -> tuple[ConfigErrors, ConfigWarnings]:
        """Refuse options that do not exist, of which MkDocs would only warn.

        Whoever mistypes `layers` would else publish a site without their own data.
        """
        failed, warned = super().validate()
        for name in sorted(set(self) - self._schema_keys):
            hint = did_you_mean(name, sorted(self._schema_keys))
            failed.append((name, ValidationError(f"there is no such option. {hint}")))
        return failed, [(name, said) for name, said in warned if name in self._schema_keys]
