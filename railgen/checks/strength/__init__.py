"""Strength of posts, rails, plates and fixings: pure arithmetic on plain numbers, each formula with its source.

Nothing here replaces the standards or the judgement of a licensed engineer; the records say what they rest on.
"""
