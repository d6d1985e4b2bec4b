"""refgen: one set of YAML data turned into a jetting reference that works without signal."""

__version__ = "0.1.0"
