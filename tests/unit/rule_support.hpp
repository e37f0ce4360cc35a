#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <string_view>

#include "rules/rule.hpp"

// One combination whose parts a test may edit, and the outcome of a named rule on it. All parts are
// invented.
namespace sprocketry::test {

struct Bench {
  spec::Requirement requirement;
  parts::MotorPart motor;
  parts::ChainPart chain;
  parts::FrontSprocketFamily front;
  parts::RearSprocketFamily rear;
  int front_teeth = 12;
  int rear_teeth = 48;
  rules::ChainRun run;
  spec::Metrics metrics;
  model::ShaftTorque torque;

  Bench() {
    motor.shaft = parts::Shaft{22.225e-3, 4.7625e-3, 45e-3};
    chain.id = "links";
    chain.size = "420";
    chain.model.pitch = 12.7e-3;
    front.size = rear.size = "420";
    front.bore = 22.225e-3;
    front.key = 4.7625e-3;
    front.hub_diameter = 32e-3;
    front.hub_length = 25e-3;
    run.reduction = 4;
  }

  // The row of an active rule, by name.
  [[nodiscard]] rules::Row row(std::string_view name) const {
    rules::Selection parts;
    parts.motor = &motor;
    parts.chain = &chain;
    parts.front = &front;
    parts.front_teeth = front_teeth;
    parts.rear = &rear;
    parts.rear_teeth = rear_teeth;
    const auto checks = rules::active_checks(requirement);
    const auto found = std::ranges::find_if(
        checks, [name](const rules::Check& check) { return check.rule->name == name; });
    if (found == checks.end()) {
      ADD_FAILURE() << "there is no rule " << name;
      return {};
    }
    return rules::make_row(*found, {requirement, parts, run, metrics, torque});
  }
};

}  // namespace sprocketry::test
