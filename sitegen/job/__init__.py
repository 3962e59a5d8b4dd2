"""The job folder in, one frozen and consistent Job out."""

from .folder import read_job
from .language import in_language

__all__ = ["in_language", "read_job"]
