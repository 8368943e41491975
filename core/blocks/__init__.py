"""Drafting the bodice block to a client's measurements."""

from core.blocks.draft import METHODS, Draft, Method, draft, drafted
from core.blocks.ease import Ease

__all__ = ["METHODS", "Draft", "Ease", "Method", "draft", "drafted"]
