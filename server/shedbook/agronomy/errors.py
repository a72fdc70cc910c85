"""What a function of this package raises; the rules turn it into `unknown` with the reason."""


class AgronomyError(ValueError):
    """A question that the formula can't answer: which argument, its value, and the limit."""

    def __init__(self, name: str, value: float | None, limit: str) -> None:
        super().__init__(f"{name} must be {limit}, found {value!r}.")
        self.name = name
        self.value = value
        self.limit = limit


class OutOfRange(AgronomyError):
    """An argument outside the span that the source of the formula covers."""


class NotEnoughData(AgronomyError):
    """Fewer values than the formula needs."""
