"""The numbers of a plan: amounts, pots, room and air."""
