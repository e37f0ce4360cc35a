#pragma once

#include <optional>
#include <ostream>
#include <string>

#include "model/chain_reading.hpp"
#include "report/text.hpp"

namespace sprocketry::report {

// What was measured, for the answer to repeat. Exactly one of the three.
struct Measured {
  std::optional<double> loop;    // m
  std::optional<double> centre;  // m
  std::optional<int> links;
  model::Around around = model::Around::kTips;  // of the loop
};

// A measurement of a chain drive with what it says.
struct ChainAnswer {
  std::string size;  // "" when only a pitch is known
  model::SprocketPair sprockets;
  Measured measured;
  model::ChainReading reading;
};

// "tips", "roots", "pitch-line".
std::string_view name_of(model::Around around);

void write_chain_answer_json(std::ostream& out, const ChainAnswer& answer);
void write_chain_answer_text(std::ostream& out, const ChainAnswer& answer, Colour colour);

}  // namespace sprocketry::report
