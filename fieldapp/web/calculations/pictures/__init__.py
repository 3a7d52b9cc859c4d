"""A picture for each calculation, from checked values and their answer.

Pictures show; every figure in them is the answer's own, rounded for reading.
"""
