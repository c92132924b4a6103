"""Figures in, SVG out: own shapes, everything escaped, meaning carried by shape and words, colour only repeating it.

A drawing takes plain numbers and its own small dataclasses. It names no colour: its classes are given one by the page
that it stands in, and without any it is black lines on the page's ground.
"""
