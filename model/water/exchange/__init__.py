"""Anion resin: what leaves it when, by equilibrium theory, by film and bead diffusion, and as a household's run."""
