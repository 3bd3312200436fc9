"""Strength of posts, rails, plates and fixings: pure arithmetic on plain numbers, each formula with its source.

Demand (loads, spans, baseplate) and resistance (members, timber, concrete, sheet, bolts) meet in
:func:`railgen.checks.strength.result.check`. Nothing here replaces the standards or the judgement of a licensed
engineer; every record says what it rests on and how sure that is.

>>> from railgen.checks.strength.loads import PostReach, post_forces, rail_load
>>> from railgen.checks.strength.materials import steel
>>> from railgen.checks.strength.members import bending
>>> from railgen.checks.strength.result import check
>>> from railgen.checks.strength.sections import Tube
>>> from railgen.checks.strength.spans import post_moment
>>> from railgen.checks.strength.systems import system
>>> from railgen.job.strength_model import DesignSystem, TubeStandard
>>> rules, grade = system(DesignSystem.EUROCODE), steel("1.4301", TubeStandard.EN_WELDED_TUBE)
>>> able = bending(Tube(od=48.3, wall=2.6), grade, rules)
>>> for force in post_forces(rail_load("bs-residential"), PostReach(before=900, after=900), rules):
...     print(check("post at the plate", post_moment(force, 985), able).line())
post at the plate (line load): 1.02 not met
post at the plate (point load): 0.77 met
"""
