"""The model: answers in, a plan out; what every other room speaks of."""
