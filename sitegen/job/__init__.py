"""The job folder in, typed frozen records out; every fault with its file and line."""

from .folder import read_job

__all__ = ["read_job"]
