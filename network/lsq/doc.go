// Package lsq fits the parameters of a model to readings: nonlinear least
// squares within bounds. It is mathematics only and knows no air.
//
// The problem is
//
//	minimise S(x) = Σ r_i(x)²  with  lower ≤ x ≤ upper
//
// for M residuals r of N parameters x. Residuals are best divided by the
// standard error of their reading: S is then χ², and the covariance needs no
// further factor.
//
// # Method
//
// Levenberg–Marquardt: the step d solves the damped linear problem
//
//	minimise ‖r + J·d‖² + μ·‖D·d‖²
//
// by QR of the matrix J stacked on √μ·D, never by the normal equations, whose
// condition would be squared. D is the largest norm that each column of J has
// had so far, which makes the path independent of the units of x (Moré). The
// damping μ follows the ratio of the true to the predicted fall of S by the
// rule of Nielsen.
//
// Bounds are held by an active set. A parameter at its bound whose gradient
// pushes outward is frozen for the step and may come free at the next; one
// that a step would carry over its bound stops there, and the step is solved
// again for the others.
//
// A fit has converged when the relative offset is small: the share of the
// residual vector that still lies in the tangent space of the model, at the
// resolution of S about the root of the machine precision. Where the residuals
// vanish that ratio means nothing, and a small undamped step ends the search
// instead.
//
// The method finds a local minimum. From a far start it may find another than
// the best, or run along a valley to infinity.
//
// # Sources
//
// All from memory: Levenberg 1944, "A method for the solution of certain
// non-linear problems in least squares", Quart. Appl. Math. 2:164–168;
// Marquardt 1963, "An algorithm for least-squares estimation of nonlinear
// parameters", J. SIAM 11:431–441; Moré 1978, "The Levenberg–Marquardt
// algorithm: implementation and theory", Lecture Notes in Mathematics
// 630:105–116; Nielsen 1999, "Damping parameter in Marquardt's method",
// IMM-REP-1999-05, and Madsen, Nielsen & Tingleff 2004, "Methods for
// non-linear least squares problems", 2nd ed., both Technical University of
// Denmark; Bates & Watts 1981, "A relative offset orthogonality convergence
// criterion for nonlinear least squares", Technometrics 23:179–183; Dennis &
// Schnabel 1983, "Numerical Methods for Unconstrained Optimization and
// Nonlinear Equations" (step of the differences); van der Sluis 1969,
// "Condition numbers and equilibration of matrices", Numer. Math. 14:14–23
// (columns of equal norm before a judgement of rank).
//
// How many digits the method reaches on the reference problems of NIST is in
// testdata/reference/nist_strd/digits.md.
package lsq
