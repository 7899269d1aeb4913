"""What ``draft.from_survey`` is made of: inputs with their ranges, stretches, flame, cap.

``pieces.stretches_of`` serves any path: a connector, a connector with its vent, a common vent.
"""
