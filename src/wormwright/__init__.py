"""Wormwright: make a low-cost geared rotary table true enough to be a CNC rotary axis."""

__version__ = "0.1.0"
