"""Planar linkages: description, motion, pictures, coursework."""
