"""A second opinion: pool quantities by quadrature and by a B-rep kernel, without poolgeo."""
