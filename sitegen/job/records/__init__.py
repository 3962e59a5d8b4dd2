"""The frozen records that the job folder is read into; nothing after this stage touches raw YAML or CSV."""

from .feed import Feed
from .house import Breaker, Circuit, Job, Note, Panel, Point, Printed, Removed, Says, TripTest, Wire
from .job_file import Code, JobFile, LabelStock, Prices, Wishes
from .plans import RoomPlan

__all__ = [
    "Breaker", "Circuit", "Code", "Feed", "Job", "JobFile", "LabelStock", "Note", "Panel", "Point", "Prices",
    "Printed", "Removed", "RoomPlan", "Says", "TripTest", "Wire", "Wishes",
]
