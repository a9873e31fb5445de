"""One phase: a three-phase motor that has lost a phase, and motors made for one phase."""
