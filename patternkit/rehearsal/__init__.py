"""The rehearsal: a program that carries out a making order on simulated cloth and says where what is told is not what
comes out. It knows the order and the design as polygons, and no formula for a cut size."""
