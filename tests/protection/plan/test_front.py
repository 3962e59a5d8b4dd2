"""A device of its own for each outlet that needs one. The front itself is held against every plan in test_least.py."""

from sitegen.job.records import Prices
from sitegen.protection.plan.front import Each, each
from sitegen.protection.plan.run import Box, Run


def test_each_outlet_gets_one_fed_from_line_where_it_has_room():
    run = Run.of([Box("K1", "B1", needs=True, holds="receptacle"), Box("K2", "K1", needs=True, holds="faceless"),
                  Box("L1", "K2", needs=True), Box("K3", "K2", holds="receptacle"),
                  Box("S1", "B1", needs=True, stands=True, face=True)], prices=Prices(18, 24, 60, 55, 2))
    assert each(run) == Each(2, 18 + 2 + 24 + 4, ("L1",))
