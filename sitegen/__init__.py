"""The handover binder: from the as-built record of a job to the site, labels and reminders it hands over."""

__version__ = "0.1.0"
