#pragma once

namespace sprocketry::model {

// Where things stand across the bike, in m from its centre plane, positive towards the chain.
struct ChainLine {
  double wheel_face = 0;   // of the wheel's flange, on which the rear sprocket lies from outside
  double shaft_face = 0;   // where the front sprocket's shaft comes out of motor or first stage
  double rear_spacer = 0;  // m, already between flange and rear sprocket
};

// How both sprockets come into one plane.
struct ChainLineFit {
  double rear_teeth = 0;       // m from the centre plane to the middle of the rear teeth
  bool teeth_outside = false;  // front sprocket: teeth at the hub's outer end, else at its inner
  double shaft_spacer = 0;     // m between the shaft's face and the hub, >= 0
  // m by which the rear teeth must move outwards beside that: a spacer where positive, a sprocket
  // dished inwards where negative; 0 when the front sprocket alone reaches the line.
  double rear_shift = 0;
};

// Fits the line. The rear teeth, `tooth` m thick, lie on the flange. The front sprocket's teeth, as
// thick, end flush with one end of a hub of `hub_length` m (the usual plain sprocket welded to a
// hub) that may be put on either way round and must stay on the shaft with its whole length:
// `shaft_length` m from the face on, infinity when that is no limit. Of two ways that reach the
// line the one with the shorter spacer is taken. `hub_length` >= `tooth`.
ChainLineFit fit_chain_line(const ChainLine& line, double tooth, double hub_length,
                            double shaft_length);

// How far in m sprockets may stand out of line: 1 mm up to 1 m between the shafts, beyond that a
// thousandth of the distance (m) (installation guides of chain makers, from memory).
double line_tolerance(double centre_distance);

}  // namespace sprocketry::model
