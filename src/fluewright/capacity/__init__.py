"""Capacity tables: the input that a table permits for a vent, and the rules that change it.

Pure: texts come in, answers go out. ``library_from`` takes the texts of the tables that
judging needs, ``extended`` adds a group of others (``groups_for`` says which a question needs),
``capacity_query`` answers one question, ``permitted_input`` is the reading of one table.
"""

from fluewright.capacity.answer import CapacityAnswer, capacity_query
from fluewright.capacity.between import Method
from fluewright.capacity.library import (
    FILES,
    GROUPS,
    Group,
    Library,
    Place,
    TableInfo,
    extended,
    library_from,
)
from fluewright.capacity.permitted import Capacity, elbow_cut, permitted_input
from fluewright.capacity.query import Query, groups_for
from fluewright.capacity.sizing import (
    SIZES_IN,
    Burner,
    Condition,
    Conditions,
    area_rule,
    downsizing,
    size_steps,
    table_size,
)
from fluewright.capacity.table import (
    ALONE,
    COLUMNS,
    KBTU_H_W,
    CapacityTable,
    Cell,
    Column,
    Confidence,
    Doubt,
    Layout,
    table_from_csv,
)

__all__ = [
    "ALONE",
    "COLUMNS",
    "FILES",
    "GROUPS",
    "KBTU_H_W",
    "SIZES_IN",
    "Burner",
    "Capacity",
    "CapacityAnswer",
    "CapacityTable",
    "Cell",
    "Column",
    "Condition",
    "Conditions",
    "Confidence",
    "Doubt",
    "Group",
    "Layout",
    "Library",
    "Method",
    "Place",
    "Query",
    "TableInfo",
    "area_rule",
    "capacity_query",
    "downsizing",
    "elbow_cut",
    "extended",
    "groups_for",
    "library_from",
    "permitted_input",
    "size_steps",
    "table_from_csv",
    "table_size",
]
