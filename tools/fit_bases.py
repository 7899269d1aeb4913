"""Fits the fitted figures of the code bases anew and prints them beside those that ship.

``python -m tools.fit_bases`` takes a minute. The cells are those whose hash of place is even
(``capacity_cells.Cell.fitted``); the other half never enters. Least squares of the logarithm of
computed over printed, with a soft loss so that a misprint does not pull. The assumptions that are
not fitted stand in ``data/physics/bases.toml`` with their sources.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from scipy.optimize import least_squares
from tools.capacity_cells import Cell, cells, ratio

from fluewright.draft.bases import CodeBasis
from fluewright.files.physics import code_bases

FITS = {
    "code_nat": ("T1", "nat_max", 0.01),
    "code_fan": ("T1", "fan_max", 0.003),
    "code_single": ("T5", "nat_max", 0.02),
}


def with_figures(basis: CodeBasis, names: Sequence[str], values: Sequence[float]) -> CodeBasis:
    """A basis with some figures changed; ``u_w_m2k.type_b`` is one of them, too."""
    for name, value in zip(names, values, strict=True):
        if "." in name:
            wall = name.partition(".")[2]
            basis = replace(basis, u_w_m2k={**basis.u_w_m2k, wall: value})
        else:
            basis = replace(basis, **{name: value})
    return basis


def figures_of(basis: CodeBasis) -> list[float]:
    """The fitted figures of a basis as they ship."""
    return [
        basis.u_w_m2k[name.partition(".")[2]] if "." in name else float(getattr(basis, name))
        for name in basis.fitted
    ]


def training(name: str) -> list[Cell]:
    """The cells that a basis is fitted to."""
    table, column, _ = FITS[name]
    return [cell for cell in cells(table, column) if cell.fitted]


def misfit(name: str, values: Sequence[float]) -> list[float]:
    """Logarithms of computed over printed for the cells that a basis is fitted to."""
    basis = with_figures(code_bases()[name], code_bases()[name].fitted, values)
    return [math.log(ratio(cell, basis)) for cell in training(name)]


def soft_loss(name: str, values: Sequence[float]) -> float:
    """What the fit makes least."""
    scale = FITS[name][2]
    return sum(math.sqrt(1.0 + (one / scale) ** 2) - 1.0 for one in misfit(name, values))


def main() -> None:
    """Prints shipped and fitted figures, one a line."""
    for name in FITS:
        shipped = figures_of(code_bases()[name])
        found = least_squares(
            lambda x, name=name: misfit(name, x),
            shipped, x_scale=shipped, loss="soft_l1", f_scale=FITS[name][2], diff_step=1e-4,
        )  # fmt: skip
        for what, old, new in zip(code_bases()[name].fitted, shipped, found.x, strict=True):
            print(f"{name} {what}: ships {old:.6g}, fits {new:.6g}")


if __name__ == "__main__":
    main()
