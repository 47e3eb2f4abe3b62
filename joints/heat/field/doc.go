// Package field computes how an arc that travels along a prismatic joint heats
// its section.
//
// A joint is the same in every section along the weld, so with constant
// properties of one metal its three-dimensional response to an instantaneous
// point-like source is the product of two parts: the response of the plane
// section to a pulse, and the one-dimensional Gaussian that spreads along the
// weld. One pulse solved on a triangle mesh of the section, summed over time
// with the Gaussian of an arc that moves at constant speed, is the field of the
// steadily travelling arc. Where the metals differ the product does not hold;
// then the section is solved once per wavenumber along the weld.
//
// Conduction only: no latent heat, no flow in the pool, no losses from the
// surface, constant conductivity and heat capacity, steady travel. For a root
// just molten these leave out about +1 % of power in aluminium and +6 % in
// steel for latent heat, and 10 to 15 % for a stirred pool (own computations
// with a nonlinear model).
//
// Points and lengths are millimetres as in package geometry, with the same
// axes. Everything thermal is SI: W/(m·K), J/(m³·K), W/(m²·K), s, W. Responses
// are temperature rises per watt of net arc power, K/W; the coordinate along
// the weld, ahead, is in mm, positive ahead of the arc.
package field
