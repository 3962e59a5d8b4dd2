"""The handover binder: from the as-built record of a job to the site, labels and reminders it hands over."""
