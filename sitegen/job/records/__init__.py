"""The frozen records that the job folder is read into; nothing after this stage touches raw YAML or CSV."""

from .feed import Feed
from .house import Breaker, Circuit, Fill, Job, Main, Note, Panel, Point, Printed, Removed, Says, TripTest, Wire
from .job_file import Amendment, Code, JobFile, LabelStock, Prices, Wishes
from .plans import RoomPlan

__all__ = [
    "Amendment", "Breaker", "Circuit", "Code", "Feed", "Fill", "Job", "JobFile", "LabelStock", "Main", "Note", "Panel", "Point", "Prices",
    "Printed", "Removed", "RoomPlan", "Says", "TripTest", "Wire", "Wishes",
]
