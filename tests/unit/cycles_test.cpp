#include "spec/cycles.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstddef>
#include <cstdlib>
#include <fstream>
#include <map>
#include <string>
#include <vector>

#include "units/units.hpp"

namespace sprocketry::spec {
namespace {

// A file of specs/cycles as its lines are written.
struct CycleFile {
  std::map<std::string, std::string> comments;  // "id" -> "eudc"
  std::vector<std::string> times;
  std::vector<std::string> speeds;  // km/h
};

CycleFile read_cycle_file(std::string_view id) {
  std::ifstream in(SPROCKETRY_SOURCE_DIR "/specs/cycles/" + std::string(id) + ".csv");
  CycleFile file;
  for (std::string line; std::getline(in, line);) {
    if (line.starts_with("# ")) {
      if (const auto colon = line.find(": "); colon != std::string::npos && line[2] != ' ') {
        file.comments[line.substr(2, colon - 2)] = line.substr(colon + 2);
      }
    } else if (line != "time_s,speed_km_h") {
      const auto comma = line.find(',');
      file.times.push_back(line.substr(0, comma));
      file.speeds.push_back(line.substr(comma + 1));
    }
  }
  return file;
}

// The number that a text begins with: "6.95486 km" -> 6.95486.
double amount(const std::string& text) { return std::strtod(text.c_str(), nullptr); }

TEST(Cycles, AreTheSixThatTheProgramPromisesInAscendingOrder) {
  std::vector<std::string> ids;
  for (const Cycle& cycle : cycles()) {
    ids.emplace_back(cycle.id);
  }
  EXPECT_EQ(ids, (std::vector<std::string>{"eudc", "hwfet", "nycc", "r40-urban", "udds", "us06"}));
}

TEST(Cycles, AreFoundByTheirExactIdOnly) {
  for (const Cycle& cycle : cycles()) {
    EXPECT_EQ(find_cycle(cycle.id), &cycle);
  }
  for (const char* unknown : {"", "UDDS", "udds ", "r40", "r40_urban", "wmtc"}) {
    EXPECT_EQ(find_cycle(unknown), nullptr) << unknown;
  }
}

TEST(Cycles, RunFromRestToRestInStepsOfOneSecond) {
  for (const Cycle& cycle : cycles()) {
    SCOPED_TRACE(cycle.id);
    ASSERT_EQ(cycle.time.size(), cycle.speed.size());
    for (std::size_t i = 0; i < cycle.time.size(); ++i) {
      ASSERT_EQ(cycle.time[i], static_cast<double>(i));
      ASSERT_GE(cycle.speed[i], 0.0);
    }
    EXPECT_EQ(cycle.speed.front(), 0.0);
    EXPECT_EQ(cycle.speed.back(), 0.0);
  }
}

TEST(Cycles, HoldTheVeryDoublesThatTheUnitReaderGivesForTheirFiles) {
  for (const Cycle& cycle : cycles()) {
    SCOPED_TRACE(cycle.id);
    const CycleFile file = read_cycle_file(cycle.id);
    ASSERT_EQ(file.speeds.size(), cycle.speed.size());
    EXPECT_EQ(file.comments.at("regulation"), cycle.regulation);
    for (std::size_t i = 0; i < cycle.speed.size(); ++i) {
      const auto read = units::parse(file.speeds[i] + " km/h", units::Dimension::kSpeed);
      ASSERT_TRUE(read.has_value()) << file.speeds[i];
      ASSERT_EQ(cycle.speed[i], read->value) << file.speeds[i] << " km/h";
      ASSERT_EQ(cycle.time[i], amount(file.times[i]));
    }
  }
}

TEST(Cycles, HaveFilesWhoseCommentsStateTheTotalsOfTheirNumbers) {
  for (const Cycle& cycle : cycles()) {
    SCOPED_TRACE(cycle.id);
    const CycleFile file = read_cycle_file(cycle.id);
    for (const char* key : {"id", "regulation", "form", "source", "check", "rounding"}) {
      EXPECT_TRUE(file.comments.contains(key)) << key;
    }
    double distance = 0;
    for (std::size_t i = 1; i < cycle.speed.size(); ++i) {
      distance += (cycle.speed[i - 1] + cycle.speed[i]) / 2;
    }
    EXPECT_EQ(amount(file.comments.at("duration")), cycle.time.back());
    EXPECT_NEAR(amount(file.comments.at("distance")), distance / 1000, 0.000005);
    EXPECT_NEAR(amount(file.comments.at("top speed")), std::ranges::max(cycle.speed) * 3.6, 1e-9);
  }
}

}  // namespace
}  // namespace sprocketry::spec
