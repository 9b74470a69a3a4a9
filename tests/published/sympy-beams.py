"""Solves beams with sympy.physics.continuum_mechanics.beam, for comparison with src/engineering/statics.

Standard input: a JSON list of beams (lengthIn, ei, supports, loads, places, as in the engine). Standard output:
for each beam the reactions, and shear, moment, slope and deflection at each place. The signs are the engine's:
loads and deflections down positive, reactions up positive, moment positive where it sags, couples clockwise.
sympy takes loads and deflections up positive, and its shear and moment change sign with them. No
settlements: when it looks for the reactions of a redundant beam, version 1.11 takes the deflections of the supports
with the other sign than when it looks for the curve, which shows as soon as one of them is not zero.
"""

import json
import sys

from sympy import Rational, symbols
from sympy.physics.continuum_mechanics.beam import Beam


def exact(value):
    return Rational(str(value))


def solve(given):
    length = exact(given["lengthIn"])
    ei = exact(given["ei"])
    beam = Beam(length, ei, 1)
    unknowns = []
    for index, support in enumerate(given["supports"]):
        at = exact(support["atIn"])
        force = symbols(f"R{index}")
        beam.apply_load(force, at, -1)
        beam.bc_deflection.append((at, 0))
        unknowns.append(force)
        if support["kind"] == "fixed":
            moment = symbols(f"M{index}")
            beam.apply_load(moment, at, -2)
            beam.bc_slope.append((at, 0))
            unknowns.append(moment)
    for load in given["loads"]:
        apply(beam, load, length)
    beam.solve_for_reaction_loads(*unknowns)
    found = beam.reaction_loads
    shear, moment = beam.shear_force(), beam.bending_moment()
    slope, deflection = beam.slope(), beam.deflection()
    x = beam.variable

    def at_place(expression, place):
        return float(expression.subs(x, exact(place)))

    return {
        "reactions": [
            {
                "forceLb": float(found[symbols(f"R{index}")]),
                "momentLbIn": float(found[symbols(f"M{index}")]) if support["kind"] == "fixed" else 0.0,
            }
            for index, support in enumerate(given["supports"])
        ],
        "places": [
            {
                "shearLb": -at_place(shear, place),
                "momentLbIn": -at_place(moment, place),
                "slopeRad": -at_place(slope, place),
                "deflectionIn": -at_place(deflection, place),
            }
            for place in given["places"]
        ],
    }


def apply(beam, load, length):
    kind = load["kind"]
    if kind == "point":
        beam.apply_load(-exact(load["loadLb"]), exact(load["atIn"]), -1)
    elif kind == "couple":
        beam.apply_load(exact(load["coupleLbIn"]), exact(load["atIn"]), -2)
    elif kind == "uniform":
        beam.apply_load(-exact(load["loadLbPerIn"]), 0, 0, end=length)
    elif kind == "partial":
        beam.apply_load(-exact(load["loadLbPerIn"]), exact(load["fromIn"]), 0, end=exact(load["toIn"]))
    elif kind == "trapezoidal":
        start, end = exact(load["fromIn"]), exact(load["toIn"])
        first, last = exact(load["startLbPerIn"]), exact(load["endLbPerIn"])
        beam.apply_load(-first, start, 0, end=end)
        beam.apply_load(-(last - first) / (end - start), start, 1, end=end)
    else:
        raise ValueError(f"unknown load kind {kind}")


if __name__ == "__main__":
    json.dump([solve(beam) for beam in json.load(sys.stdin)], sys.stdout)
