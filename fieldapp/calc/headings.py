"""Words for the columns of tables: a key without its unit, which stands beside it."""

UNITS = {
    "_bar": "bar", "_c": "°C", "_kn": "kN", "_knm": "kNm", "_kpa": "kPa", "_l": "L",
    "_m": "m", "_min": "min", "_mm": "mm", "_mm2": "mm²", "_mpa": "MPa",
    "_percent": "%", "_rad": "rad",
}  # fmt: skip
"""What the ends of keys stand for."""
WORDS = {"temp": "temperature"}


def words_of(key: str) -> str:
    """Give the words of a key; its unit is told apart."""
    bare = key.removesuffix(_end(key))
    return WORDS.get(bare, bare.replace("_", " "))


def headed(key: str, unit: str = "") -> str:
    """Give the head of a column; unit: what is known of it, else by the key's end."""
    unit = unit or UNITS.get(_end(key), "")
    return with_unit(words_of(key), unit)


def with_unit(words: str, unit: str) -> str:
    """Set a unit behind what it is of."""
    return f"{words} [{unit}]" if unit else words


def _end(key: str) -> str:
    return max((end for end in UNITS if key.endswith(end)), key=len, default="")
