#pragma once

namespace sprocketry::model {

// A parallel key between shaft and hub. Lengths in m, torques in N m, stresses in Pa.

// Force at the shaft's surface in N: 2 T/d.
double tangential_force(double torque, double shaft_diameter);

// Shear stress of the key: F/(w l) (Shigley, section 7-7).
double key_shear_stress(double force, double width, double length);

// Bearing stress on the side of the key: F/(c l), c what bears; half the height of a square key, so
// that it is 2 F/(h l) there (Shigley, section 7-7).
double key_bearing_stress(double force, double bearing_height, double length);

// Length that carries: the hub's, at most the shaft's (0: not known), at most 1.5 shaft diameters,
// beyond which the twist of the shaft leaves the rest unloaded (Shigley, section 7-7).
double carrying_key_length(double hub_length, double shaft_length, double shaft_diameter);

// Torque that a holding power (N) at the shaft's surface carries: P d/2 (Shigley, section 7-7).
double holding_torque(double holding_power, double shaft_diameter);

}  // namespace sprocketry::model
