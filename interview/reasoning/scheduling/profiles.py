"""How much of one resource is taken at every minute."""

from __future__ import annotations

from bisect import bisect_left, bisect_right


class Profile:
    """A step function over time, zero to begin with. Minutes from `since` on, without end."""

    __slots__ = ("_times", "_used", "capacity")

    def __init__(self, capacity: int) -> None:
        self.capacity = capacity
        self._times = [0]  # sorted; from each of them on ...
        self._used = [0]  # ... so much is taken

    def next_fit(self, minute: int, length: int, amount: int) -> int:
        """The first minute from `minute` on where `amount` is free for `length` minutes."""
        free = self.capacity - amount
        times, used = self._times, self._used
        last = len(times)
        where = bisect_right(times, minute) - 1
        start, needed = minute, minute + length
        while where < last and (where < 0 or times[where] < needed):
            if where >= 0 and used[where] > free:
                where += 1  # the last step is always zero, so there is a next one
                start = times[where]
                needed = start + length
            else:
                where += 1
        return start

    def clear_since(self, minute: int, until: int, amount: int) -> int:
        """From when on, not before `minute`, `amount` is free right up to `until`; at the latest `until`."""
        free = self.capacity - amount
        where = bisect_left(self._times, until) - 1
        since = until
        while where >= 0 and since > minute and self._used[where] <= free:
            since = self._times[where]
            where -= 1
        return max(minute, since)

    def take(self, minute: int, length: int, amount: int) -> None:
        """Take `amount` (give it back, if negative) from `minute` for `length` minutes."""
        first = self._cut(minute)
        last = self._cut(minute + length)
        used = self._used
        for where in range(first, last):
            used[where] += amount
        self._mend(last)
        self._mend(first)

    def _cut(self, minute: int) -> int:
        """Begin a step at this minute; its place."""
        where = bisect_left(self._times, minute)
        if where == len(self._times) or self._times[where] != minute:
            self._times.insert(where, minute)
            self._used.insert(where, self._used[where - 1])
        return where

    def _mend(self, where: int) -> None:
        """Join a step with the one before it where both are equal."""
        if where > 0 and self._used[where] == self._used[where - 1]:
            del self._times[where], self._used[where]

    @property
    def busy_until(self) -> int:
        """From this minute on nothing is taken."""
        return self._times[-1]
