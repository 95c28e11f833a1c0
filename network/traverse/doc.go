// Package traverse turns readings across a round duct into one mean air speed:
// where to hold the probe, and how to average.
//
// Velocity pressures are never averaged. The speed goes with the square root of
// the velocity pressure, so the roots are averaged: the root of the mean of the
// pressures is the larger, by the share var(√p)/(2·mean(√p)²) to first order.
//
// A centre-line reading stands for less than itself: see MeanOverCentre.
package traverse
