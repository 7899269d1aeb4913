"""Invented surveys of common vents for the tests of drawings; every reading in them is made up."""

from __future__ import annotations

import random

from fluewright.files import survey_from_text
from fluewright.survey import Survey

HEAD = """
survey: 1
job: {{title: "{title}", seen: 2026-11-24, by: A. Example, visit: as found,
      edition: umc_2012, invented: yes}}
tools: {{length: tape, height: tape, slope: digital_level}}
"""

TWO = (
    HEAD.format(title="Thistle Row 3, cellar: two on one Type B vent")
    + """
spaces: {cellar: {kind: basement, ceiling: 8 ft}, attic: {kind: attic}}
appliances:
  heater: {kind: storage water heater, fuel: natural gas, input: 40000 Btu/h, draft: draft_hood,
           outlet_diameter: 4 in, outlet_on_top: yes, space: cellar,
           hood: {present: yes, height_above_floor: 61 in}}
  furnace: {kind: furnace, fuel: natural gas, input: 100000 Btu/h, draft: draft_hood,
            outlet_diameter: 5 in, outlet_on_top: yes, space: cellar,
            hood: {present: yes, height_above_floor: 54 in}}
paths:
  - from: furnace
    joins: trunk
    enters: {at: t1, way: side}
    pieces:
      - {id: f1, part: straight, role: connector, wall: single, diameter: 5 in, length: 14 in,
         runs: up, joint: {fastening: screws, screws: 3, male_end: downstream}}
      - {id: f2, part: elbow, role: connector, wall: single, diameter: 5 in, angle: 90 deg}
      - {id: f3, part: straight, role: connector, wall: single, diameter: 5 in, length: 40 in,
         runs: level, slope: 1/4 in/ft, joint: {fastening: tape_only, tape: duct},
         clearance: {distance: 4 in, to: joist}}
  - from: heater
    joins: trunk
    enters: {at: t2, way: side}
    pieces:
      - {id: c1, part: straight, role: connector, wall: single, diameter: 4 in, length: 16 in,
         runs: up, joint: {fastening: screws, screws: 2, male_end: downstream}}
      - {id: c2, part: elbow, role: connector, wall: single, diameter: 4 in, angle: 90 deg}
      - {id: c3, part: straight, role: connector, wall: single, diameter: 4 in, length: 30 in,
         runs: level, slope: 1/4 in/ft, clearance: {distance: 7 in, to: joist}}
common:
  trunk:
    pieces:
      - {id: t1, part: tee, role: vent, wall: type_b, diameter: 6 in, length: 10 in, leg: 5 in,
         runs: up}
      - {id: t2, part: tee, role: vent, wall: type_b, diameter: 6 in, length: 10 in, leg: 5 in,
         runs: up}
      - {id: v1, part: straight, role: vent, wall: type_b, diameter: 6 in, length: 11 ft, runs: up,
         joint: {fastening: listed_lock}}
      - {id: cap, part: cap, listed: yes}
    roof: {ends: above_roof, pitch: 6/12, cap_above_penetration: 20 in, ridge: 9 ft}
"""
)

MANIFOLD = (
    HEAD.format(title="Rowan Yard, boiler room: three with a manifold")
    + """
spaces: {boiler_room: {kind: room, ceiling: 9 ft}}
appliances:
  boiler: {kind: boiler, fuel: natural gas, input: 150000 Btu/h, draft: fan_assisted,
           outlet_diameter: 6 in, outlet_on_top: yes, space: boiler_room}
  heater_one: {kind: storage water heater, fuel: natural gas, input: 40000 Btu/h,
               draft: draft_hood, outlet_diameter: 4 in, outlet_on_top: yes, space: boiler_room,
               hood: {present: yes, height_above_floor: 60 in}}
  heater_two: {kind: storage water heater, fuel: natural gas, input: 40000 Btu/h,
               draft: draft_hood, outlet_diameter: 4 in, outlet_on_top: yes, space: boiler_room,
               hood: {present: yes, height_above_floor: 60 in}}
paths:
  - from: boiler
    joins: header
    enters: {at: m1, way: through}
    pieces:
      - {id: b1, part: straight, role: connector, wall: type_b, diameter: 6 in, length: 24 in,
         runs: up}
      - {id: b2, part: elbow, role: connector, wall: type_b, diameter: 6 in, angle: 90 deg,
         leg: 8 in}
      - {id: b3, part: straight, role: connector, wall: type_b, diameter: 6 in, length: 18 in,
         runs: level, slope: 1/4 in/ft}
  - from: heater_one
    joins: header
    enters: {at: t1, way: side}
    pieces:
      - {id: h1, part: straight, role: connector, wall: single, diameter: 4 in, length: 20 in,
         runs: up}
  - from: heater_two
    joins: header
    enters: {at: t2, way: side}
    pieces:
      - {id: k1, part: run, role: connector, wall: single, diameter: 4 in, rise: 22 in,
         horizontal: 26 in, elbows: [90 deg, 90 deg]}
common:
  header:
    pieces:
      - {id: m1, part: straight, role: vent, wall: type_b, diameter: 8 in, length: 24 in,
         runs: level, slope: 1/4 in/ft}
      - {id: t1, part: tee, role: vent, wall: type_b, diameter: 8 in, length: 14 in, runs: level,
         slope: 1/4 in/ft}
      - {id: m2, part: straight, role: vent, wall: type_b, diameter: 8 in, length: 30 in,
         runs: level, slope: 1/4 in/ft}
      - {id: t2, part: tee, role: vent, wall: type_b, diameter: 8 in, length: 14 in, runs: level,
         slope: 1/4 in/ft}
      - {id: e1, part: elbow, role: vent, wall: type_b, diameter: 8 in, angle: 90 deg, leg: 9 in}
      - {id: v1, part: straight, role: vent, wall: type_b, diameter: 8 in, length: 14 ft, runs: up}
      - {id: cap, part: cap, listed: yes}
    roof: {ends: above_roof, pitch: 1/12, cap_above_penetration: 14 in,
           near: [{kind: parapet, horizontal: 5 ft, top_above_penetration: 30 in}]}
"""
)

ORPHAN = (
    HEAD.format(title="Hazel Steps 8: a heater left alone on a chimney")
    + """
spaces: {cellar: {kind: basement, ceiling: 7 ft}}
appliances:
  heater: {kind: storage water heater, fuel: natural gas, input: 36000 Btu/h, draft: draft_hood,
           outlet_diameter: 3 in, outlet_on_top: yes, space: cellar,
           hood: {present: yes, height_above_floor: 58 in}}
  old_furnace: {kind: furnace, taken_out: yes, draft: draft_hood, outlet_diameter: 6 in,
                outlet_on_top: yes, space: cellar}
paths:
  - from: heater
    joins: chimney
    enters: {at: k1, way: side}
    pieces:
      - {id: c1, part: straight, role: connector, wall: single, diameter: 3 in, length: 8 in,
         runs: up, joint: {fastening: friction_only}}
      - {id: c2, part: elbow, role: connector, wall: single, diameter: 3 in, angle: 90 deg}
      - {id: c3, part: straight, role: connector, wall: single, diameter: 3 in, length: 50 in,
         runs: level, slope: 1/8 in/ft}
  - from: old_furnace
    joins: chimney
    enters: {at: k1, way: side}
    pieces:
      - {id: o1, part: run, role: connector, wall: single, diameter: 6 in, rise: 20 in,
         horizontal: 36 in, elbows: [90 deg]}
common:
  chimney:
    chimney: {kind: masonry, exterior: yes, liner: clay, flue_area: 49 in2,
              inlet_thimble: yes, cleanout: {tight: yes, below_inlet: 14 in}}
    pieces:
      - {id: k1, part: straight, role: vent, wall: masonry, length: 24 ft, runs: up}
    roof: {ends: above_roof, pitch: 8/12, cap_above_penetration: 30 in, ridge: 6 ft}
"""
)

TEXTS = {"two": TWO, "manifold": MANIFOLD, "orphan": ORPHAN}


def tree_survey(name: str) -> Survey:
    """One of the surveys above."""
    return survey_from_text(TEXTS[name], f"{name}.yaml")


def random_tree(seed: int) -> Survey:
    """A random common vent: two to five appliances, tees, offsets, readings missing at random."""
    pick = random.Random(seed)
    count = pick.randint(2, 5)
    owners = "".join(_random_appliance(pick, i) for i in range(count))
    trunk, at = _random_trunk(pick, count)
    paths = "".join(_random_path(pick, i, at[i]) for i in range(count))
    roof = f"{{ends: above_roof, pitch: {pick.randint(0, 12)}/12"
    if pick.random() < 0.8:
        roof += f", cap_above_penetration: {pick.randint(8, 50)} in"
    if pick.random() < 0.5:
        roof += (
            f", near: [{{kind: wall, horizontal: {pick.randint(2, 14)} ft, "
            f"top_above_penetration: {pick.randint(1, 9)} ft}}]"
        )
    if pick.random() < 0.5:
        roof += f", ridge: {pick.randint(2, 20)} ft"
    text = (
        HEAD.format(title=f"Invented house {seed}")
        + "spaces: {cellar: {kind: basement, ceiling: 8 ft}, upper: {kind: closet}}\n"
        + f"appliances:\n{owners}paths:\n{paths}common:\n  main:\n{trunk}    roof: {roof}}}\n"
    )
    return survey_from_text(text, f"random-{seed}.yaml")


def _random_appliance(pick: random.Random, i: int) -> str:
    hood = f", hood: {{height_above_floor: {pick.randint(40, 70)} in}}"
    gone = ", taken_out: yes" if i and pick.random() < 0.2 else ""
    return (
        f"  unit_{i}: {{kind: {pick.choice(('furnace', 'boiler', 'storage water heater'))}, "
        f"draft: {pick.choice(('draft_hood', 'fan_assisted'))}, outlet_on_top: yes, "
        f"outlet_diameter: {pick.randint(3, 6)} in, "
        f"space: {'upper' if pick.random() < 0.15 else 'cellar'}"
        f"{hood if pick.random() < 0.75 else ''}{gone}}}\n"
    )


def _random_trunk(pick: random.Random, count: int) -> tuple[str, list[str]]:
    lines = ["    pieces:\n"]
    at: list[str] = []
    wall = pick.choice(("type_b", "type_b", "single", "masonry"))
    head = f"role: vent, wall: {wall}, diameter: {pick.randint(6, 12)} in"
    if wall == "masonry":
        lines.append(f"      - {{id: k1, part: straight, {head}, length: 22 ft, runs: up}}\n")
        return "".join(lines), ["k1"] * count
    level = "level, slope: 1/4 in/ft" if pick.random() < 0.35 else "up"
    for i in range(count):
        part = pick.choice(("tee", "tee", "wye"))
        length = f", length: {pick.randint(8, 16)} in" if pick.random() < 0.9 else ""
        lines.append(f"      - {{id: t{i}, part: {part}, {head}{length}, runs: {level}}}\n")
        if pick.random() < 0.4:
            long = pick.randint(6, 40)
            lines.append(
                f"      - {{id: s{i}, part: straight, {head}, length: {long} in, runs: {level}}}\n"
            )
        at.append(f"t{i}")
    if level != "up":
        lines.append(f"      - {{id: e1, part: elbow, {head}, angle: 90 deg}}\n")
    long = pick.randint(5, 30)
    lines.append(f"      - {{id: v1, part: straight, {head}, length: {long} ft, runs: up}}\n")
    if pick.random() < 0.8:
        lines.append("      - {id: cap, part: cap, listed: yes}\n")
    return "".join(lines), at


def _random_path(pick: random.Random, i: int, at: str) -> str:
    way = "through" if i == 0 and at == "t0" and pick.random() < 0.5 else "side"
    lines = [f"  - from: unit_{i}\n    joins: main\n    enters: {{at: {at}, way: {way}}}\n"]
    head = f"role: connector, wall: {pick.choice(('single', 'type_b'))}, diameter: 5 in"
    shape = pick.random()
    if shape < 0.15:
        return "".join(lines)
    lines.append("    pieces:\n")
    if shape < 0.5:
        sides = f"rise: {pick.randint(4, 40)} in" if pick.random() < 0.85 else "rise: '?'"
        lines.append(
            f"      - {{id: c{i}, part: run, {head}, {sides}, "
            f"horizontal: {pick.randint(0, 110)} in, elbows: [90 deg]}}\n"
        )
        return "".join(lines)
    long = f", length: {pick.randint(4, 40)} in" if pick.random() < 0.9 else ""
    lines.append(f"      - {{id: c{i}a, part: straight, {head}{long}, runs: up}}\n")
    if shape < 0.9:
        slope = ", slope: 1/4 in/ft" if pick.random() < 0.8 else ""
        gap = ", clearance: {distance: 5 in, to: joist}" if pick.random() < 0.5 else ""
        lines.append(f"      - {{id: c{i}b, part: elbow, {head}, angle: 90 deg}}\n")
        lines.append(
            f"      - {{id: c{i}c, part: straight, {head}, length: {pick.randint(8, 120)} in, "
            f"runs: level{slope}{gap}}}\n"
        )
    return "".join(lines)
