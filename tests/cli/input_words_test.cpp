#include "report/input_words.hpp"

#include <gtest/gtest.h>

#include <set>

#include "cli/input_examples.hpp"
#include "cli/launch.hpp"
#include "spec/load.hpp"
#include "spec/spread.hpp"

namespace sprocketry::test {
namespace {

// The examples write every key that the loaders know, and what is assumed is met as well.
TEST(InputWords, ThereAreSomeForEveryNumberThatMayBeUncertain) {
  const tiny::Workplace place;
  place.write("ride.csv", "time_s,speed_km_h\n0,0\n5,30\n9,20\n");
  std::set<std::string> seen;
  for (const InputExample& example : input_examples()) {
    place.write("bike.yaml", example.requirement);
    place.write("parts.yaml", example.parts);
    document::Diagnostics diagnostics;
    spec::WrittenJob written;
    ASSERT_TRUE(spec::load_job(place.bike(), {}, diagnostics, &written)) << diagnostics.text();
    for (const parts::Input& input : written.inputs) {
      if (!spec::may_be_uncertain(input.path)) continue;
      const report::InputWords words = report::words_of(input);
      EXPECT_NE(words.name, input.path);
      const std::string_view name = std::string_view(words.name).substr(0, words.name.find(" of "));
      EXPECT_EQ(name.find_first_of("._*"), std::string_view::npos) << words.name;
      seen.insert(input.pattern);
    }
  }
  EXPECT_GT(seen.size(), 150U);
  for (const char* assumed :
       {"conditions.pack.temperature", "cells.*.usable.to", "cells.*.charge_efficiency",
        "chargers.*.efficiency", "chains.*.mass_per_length", "chains.*.tensile_strength",
        "front_sprockets.*.key_strength", "motors.*.thermal.winding_to_body"}) {
    EXPECT_TRUE(seen.contains(assumed)) << assumed;
  }
}

TEST(InputWords, NameThePartOfAnInput) {
  parts::Input input;
  input.path = "cells.marl.50.current.charge";
  input.pattern = "cells.*.current.charge";
  EXPECT_EQ(report::words_of(input).name, "charge current of marl.50");
  input.path = "extras.fuse.mass";
  input.pattern = "extras.*.mass";
  EXPECT_EQ(report::words_of(input).name, "mass of fuse");
  EXPECT_EQ(report::words_of(input).how, "weigh it");
}

}  // namespace
}  // namespace sprocketry::test
