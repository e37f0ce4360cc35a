#pragma once

#include <optional>
#include <string>

#include "model/chain.hpp"
#include "model/suspension.hpp"
#include "parts/catalogue.hpp"

namespace sprocketry::rules {

// One option of every slot. `charger` is null when the catalogue has none.
struct Selection {
  const parts::MotorPart* motor = nullptr;
  const parts::ControllerPart* controller = nullptr;
  const parts::PackPart* pack = nullptr;
  const parts::ChargerPart* charger = nullptr;
  const parts::ChainPart* chain = nullptr;
  const parts::FrontSprocketFamily* front = nullptr;
  int front_teeth = 0;
  const parts::RearSprocketFamily* rear = nullptr;
  int rear_teeth = 0;
};

// "motor/controller/pack/charger/chain/front:12/rear:54"; "none" for no charger.
std::string design_id(const Selection& selection);

inline constexpr const char* kNoCharger = "none";

// The chain run that chain, front and rear sprocket make in the frame.
struct ChainRun {
  std::optional<model::ChainFit> fit;  // nothing: no allowed link count
  double reduction = 0;                // rear over front teeth
  double efficiency = 0;               // of the chain, 0..1
  double total_reduction = 0;          // motor turns per turn of the wheel, a primary included
  double total_efficiency = 0;         // from motor to wheel, 0..1
  double wrap = 0;  // rad on the smaller sprocket at the fitted (or least) distance
  // With a swing arm: how to set the fitted chain.
  std::optional<model::SlackSetting> slack;
};

}  // namespace sprocketry::rules
