#pragma once

namespace sprocketry::model {

// Constants of one size in the classic American power ratings of single-strand roller chain (the
// appendix of ANSI B29.1 until the 1990s, Shigley Eq. 17-32 and 17-33, Machinery's Handbook).
// Basis: 15 000 h, 100 pitches, recommended lubrication, smooth load. Later tables of the same
// chains are 1.25 to 1.6 times higher; these are the lower and reproducible ones. In horsepower,
// with pitch in inches and speed in rpm, as published.
struct ChainRating {
  double plate = 0;   // 0.004; #41: 0.0022
  double roller = 0;  // 17; #25 and #35: 29; #41: 3.4
};

// Power in W at which the link plates tire: c N^1.08 n^0.9 p^(3 - 0.07 p) hp. `pitch` in m, `teeth`
// and `speed` (rad/s) of the smaller sprocket. The tooth factor (N/17)^1.08 is part of it.
double link_plate_power(const ChainRating& rating, double pitch, int teeth, double speed);

// Power in W at which rollers and bushings tire: 1000 K N^1.5 p^0.8/n^1.5 hp. Governs above the
// speed at which it crosses the plates' power; there the tooth factor is (N/17)^1.5.
double roller_power(const ChainRating& rating, double pitch, int teeth, double speed);

// Speed in rad/s of the smaller sprocket above which pins gall in their bushings whatever the
// lubrication: n = 1000 [82.5/(7.95^p 1.0278^N 1.323^(F/1000))]^(1/(1.59 log10 p + 1.873)) rpm, p
// in inches, F in lbf (Shigley Eq. 17-40, from memory). `tension` in N.
double galling_speed(double pitch, int teeth, double tension);

// Rated power in W: the lesser of the two powers, and nothing above the galling speed. A caller
// keeps to the speeds and tooth counts of the tables (see parts/chain_rating.hpp).
double power_capacity(const ChainRating& rating, double pitch, int teeth, double speed,
                      double tension);

}  // namespace sprocketry::model
