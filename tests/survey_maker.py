"""Invented surveys by the dozen: every field of the data classes, filled by chance from a seed."""

from __future__ import annotations

from random import Random
from typing import Any

from fluewright.files.build import Record, Slot, ToolNames, record_of
from fluewright.files.cross import NOT_ON
from fluewright.files.exact import with_unit
from fluewright.files.forms import Choice, Form, ListOf, Named, Text, YesNo
from fluewright.files.quantities import Quantity
from fluewright.files.ranges import plausible
from fluewright.quantity import to_unit
from fluewright.survey import Survey

WORDS = ["joist", "a: b", "no", "?", "½ in", "- x", "#1", '"', "\\", "  two  spaces ", "7", "é\n"]
WORDS += [
    "null",
    "2026-11-20",
    "{x}",
    "\N{FIRE}",
    "1_000",
    "\ufffd\u200d",
    "'",
    "%",
    "=",
    "yes: 1",
    "\u2028",
    "\ufeff",
]


class Maker:
    """Makes the plain data of a survey file."""

    def __init__(self, seed: int) -> None:
        self.chance = Random(seed)

    def survey(self) -> dict[str, Any]:
        """A survey whose names agree."""
        data: dict[str, Any] = self.record(record_of(Survey), 0.5)
        data = {"survey": 1, **data, "appliances": data.get("appliances") or {"heater": {}}}
        appliances, spaces = list(data["appliances"]), list(data.get("spaces", {}))
        holders = list(data["appliances"].values())
        ids = list(appliances)
        common = {f"trunk_{i}": vent for i, vent in enumerate(data.pop("common", {}).values())}
        if common:
            data["common"] = common
        for path in data["paths"]:
            path["from"] = self.chance.choice(appliances)
            pieces = path.get("pieces", [])
            self.put_in_order(pieces, len(ids))
            ids += [piece["id"] for piece in pieces]
            holders += pieces
        for vent in common.values():
            pieces = vent.get("pieces", [])
            self.put_in_order(pieces, len(ids))
            ids += [piece["id"] for piece in pieces]
            holders += pieces
        for path in data["paths"]:
            self.join(path, common)
        ids += common
        for holder in holders:
            if "space" in holder and spaces:
                holder["space"] = self.chance.choice(spaces)
            else:
                holder.pop("space", None)
        if isinstance(data["job"].get("new"), list):
            data["job"]["new"] = [self.chance.choice(ids) for _ in data["job"]["new"]]
        self.lead_openings(data.get("spaces", {}))
        for photo in data.get("photos", []):
            if "of" in photo:
                photo["of"] = self.chance.choice(ids)
        return data

    def lead_openings(self, spaces: dict[str, Any]) -> None:
        """Openings for air lead to other spaces, and have ids of their own."""
        for name, space in spaces.items():
            others = [other for other in spaces if other != name]
            openings = space.get("air", {}).get("openings")
            if not isinstance(openings, list):
                continue
            if not others:
                del space["air"]["openings"]
                continue
            for i, opening in enumerate(openings):
                opening["id"] = f"opening_{i}"
                opening["to"] = self.chance.choice(others)

    def put_in_order(self, pieces: list[dict[str, Any]], first: int) -> None:
        """Own ids from a number on, connector first, the cap last, and only what a part states."""
        for piece in pieces:
            piece.setdefault("role", self.chance.choice(["connector", "vent"]))
        roles = sorted(piece["role"] for piece in pieces)
        for i, piece in enumerate(pieces):
            piece["id"] = f"p{first + i}"
            if piece["part"] == "cap" and i < len(pieces) - 1:
                piece["part"] = "straight"
            piece["role"] = roles.pop(0)
            for key in NOT_ON[piece["part"]][0]:
                piece.pop(key, None)

    def join(self, path: dict[str, Any], common: dict[str, Any]) -> None:
        """Let a path that joins something join a common vent of the survey, as connector alone."""
        entered = path.pop("enters", None)
        if path.pop("joins", None) is None or not common:
            return
        path["joins"] = name = self.chance.choice(list(common))
        for key in ("vent", "roof", "chimney"):
            path.pop(key, None)
        for piece in path.get("pieces", []):
            piece["role"] = "connector"
            if piece["part"] == "cap":
                piece["part"] = "straight"
            for key in NOT_ON[piece["part"]][0]:
                piece.pop(key, None)
        if entered is not None:
            at = [piece["id"] for piece in common[name].get("pieces", [])]
            path["enters"] = {"way": "side", **({"at": self.chance.choice(at)} if at else {})}

    def record(self, form: Record, share: float) -> dict[str, Any]:
        """The required keys of a class, and a share of the others."""
        return {
            key: self.slot(slot)
            for key, slot in form.slots.items()
            if slot.required or self.chance.random() < share
        }

    def slot(self, slot: Slot) -> Any:
        """A value, or what may stand instead of one."""
        kind = self.chance.random()
        if slot.unmeasured and kind < 0.1:
            return self.chance.choice(["?", "? behind the drywall", "?? who knows: nobody"])
        if slot.absent and kind > 0.9:
            return "none"
        value = self.value(slot.form)
        return "none" if slot.absent and value == [] else value

    def value(self, form: Form) -> Any:
        """A value of a form."""
        if isinstance(form, Quantity):
            return self.reading(form)
        if isinstance(form, Choice):
            return self.chance.choice(form.words)
        if isinstance(form, YesNo):
            return self.chance.choice([True, False, "yes", "no"])
        if isinstance(form, Text):
            return self.chance.choice(WORDS) + "m" + self.chance.choice(WORDS)
        if isinstance(form, ListOf):
            return [self.value(form.item) for _ in range(self.chance.randrange(4))]
        if isinstance(form, ToolNames):
            return self.chance.choice(
                [{}, {"length": "laser"}, {"height": "tape", "slope": "digital_level"}]
            )
        if isinstance(form, Named):
            names = self.chance.sample(["a", "B-2", "heater", "n_0"], self.chance.randrange(1, 4))
            return {name: self.value(form.item) for name in names}
        assert isinstance(form, Record)
        return self.record(form, 0.3)

    def reading(self, form: Quantity) -> Any:
        """A reading in its range, in some unit, with or without tolerance and tool."""
        likely = plausible(form.field, form.reading)
        if form.reading.dimension == "count":
            return self.chance.choice([0, 3, "2", "2 ± 1", {"value": 4, "tool": "look"}])
        unit = self.chance.choice(likely.units)
        low, high = to_unit(likely.low_si, unit), to_unit(likely.high_si, unit)
        number = f"{self.chance.uniform(low, high):.{self.chance.randrange(8)}f}"
        if not low <= float(number) <= high:
            number = f"{(low + high) / 2:.9f}"
        text = with_unit(number, unit)
        if unit != "%" and self.chance.random() < 0.4:  # after ± it would be a share
            bound = (high - low) / self.chance.choice([7, 60, 512])
            text += f" ± {with_unit(f'{bound:.9f}', unit)}"
        if self.chance.random() < 0.2:
            return {"value": text, "tool": f"unstated_{form.reading.dimension}"}
        return text
