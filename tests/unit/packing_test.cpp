// Cells in rooms: the grid against a search that puts one body after another on whole millimetres,
// and the rules just inside and just outside.
#include "model/packing.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>
#include <set>
#include <sstream>

#include "evaluate_support.hpp"
#include "report/design_json.hpp"
#include "report/design_text.hpp"

namespace sprocketry::test {
namespace {

using model::Box;

// A room of whole units, filled cell by cell: each body is set at the first free place in scanning
// order where it fits whole. With one way of turning this is a grid, counted by hand.
int fill(std::array<int, 3> room, std::array<int, 3> body) {
  std::set<std::array<int, 3>> taken;
  const auto free = [&](int x, int y, int z) {
    for (int i = x; i < x + body[0]; ++i)
      for (int j = y; j < y + body[1]; ++j)
        for (int k = z; k < z + body[2]; ++k)
          if (i >= room[0] || j >= room[1] || k >= room[2] || taken.contains({i, j, k}))
            return false;
    return true;
  };
  int count = 0;
  for (int x = 0; x < room[0]; ++x)
    for (int y = 0; y < room[1]; ++y)
      for (int z = 0; z < room[2]; ++z) {
        if (!free(x, y, z)) continue;
        ++count;
        for (int i = x; i < x + body[0]; ++i)
          for (int j = y; j < y + body[1]; ++j)
            for (int k = z; k < z + body[2]; ++k) taken.insert({i, j, k});
      }
  return count;
}

int fill_best(std::array<int, 3> room, const std::array<int, 3>& body) {
  constexpr int kTurns[6][3] = {{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}};
  int best = 0;
  for (const auto& turn : kTurns) {
    const auto edge = [&](int i) { return body[static_cast<std::size_t>(turn[i])]; };
    best = std::max(best, fill(room, {edge(0), edge(1), edge(2)}));
  }
  return best;
}

// Whole millimetres; the sum of inexact metres must not lose a body.
Box millimetres(const std::array<int, 3>& edges) {
  return {edges[0] * 0.001, edges[1] * 0.001, edges[2] * 0.001};
}

TEST(Packing, CountsWhatFillingEverySmallRoomCounts) {
  int rooms = 0;
  for (int a = 1; a <= 5; ++a)
    for (int b = 1; b <= 5; ++b)
      for (int c = 1; c <= 5; ++c)
        for (int l = 1; l <= 3; ++l)
          for (int w = 1; w <= 3; ++w)
            for (int h = 1; h <= 3; ++h) {
              ++rooms;
              const model::GridFit fit =
                  model::best_grid(millimetres({a, b, c}), millimetres({l, w, h}));
              ASSERT_EQ(fit.count(), fill_best({a, b, c}, {l, w, h}))
                  << a << ' ' << b << ' ' << c << " by " << l << ' ' << w << ' ' << h;
            }
  EXPECT_EQ(rooms, 125 * 27);
}

TEST(Packing, CountsWhatFillingRandomRoomsCounts) {
  std::mt19937 dice(7);
  const auto edge = [&](int low, int high) {
    return low + static_cast<int>(dice() % static_cast<unsigned>(high - low + 1));
  };
  for (int i = 0; i < 1000; ++i) {
    const std::array<int, 3> room = {edge(1, 14), edge(1, 14), edge(1, 14)};
    const std::array<int, 3> body = {edge(1, 7), edge(1, 7), edge(1, 7)};
    ASSERT_EQ(model::best_grid(millimetres(room), millimetres(body)).count(),
              fill_best(room, body));
  }
}

// The edges as the fit says: all bodies lie inside the room.
TEST(Packing, SaysHowTheBodiesStand) {
  std::mt19937 dice(8);
  const auto edge = [&](unsigned most) { return 1 + static_cast<int>(dice() % most); };
  for (int i = 0; i < 2000; ++i) {
    const Box room = millimetres({edge(60), edge(60), edge(60)});
    const Box body = millimetres({edge(20), edge(20), edge(20)});
    const model::GridFit fit = model::best_grid(room, body);
    const std::array<double, 3> sides = {room.length, room.width, room.height};
    const std::array<double, 3> edges = {body.length, body.width, body.height};
    std::set<int> used(fit.edge.begin(), fit.edge.end());
    ASSERT_EQ(used, (std::set<int>{0, 1, 2}));
    if (fit.count() == 0) continue;
    for (std::size_t k = 0; k < 3; ++k) {
      const double body_edge = edges[static_cast<std::size_t>(fit.edge[k])];
      ASSERT_LE(static_cast<double>(fit.along[k]) * body_edge, sides[k] + 1e-9);
      ASSERT_GT(static_cast<double>(fit.along[k] + 1) * body_edge, sides[k]);
    }
    ASSERT_LE(static_cast<double>(fit.count()) * body.volume(),
              room.volume() * (1 + model::kVolumeRounding));
  }
}

TEST(Packing, NeverHoldsLessInALargerRoomOrOfASmallerBody) {
  std::mt19937 dice(9);
  std::uniform_real_distribution<double> room_edge(0.05, 0.6);
  std::uniform_real_distribution<double> body_edge(0.02, 0.2);
  std::uniform_real_distribution<double> more(1.0, 1.3);
  for (int i = 0; i < 2000; ++i) {
    const Box room{room_edge(dice), room_edge(dice), room_edge(dice)};
    const Box body{body_edge(dice), body_edge(dice), body_edge(dice)};
    const auto before = model::best_grid(room, body).count();
    const Box larger{room.length * more(dice), room.width * more(dice), room.height * more(dice)};
    ASSERT_GE(model::best_grid(larger, body).count(), before);
    const Box smaller{body.length / more(dice), body.width / more(dice), body.height / more(dice)};
    ASSERT_GE(model::best_grid(room, smaller).count(), before);
    // Neither the room's nor the body's edges have an order.
    const Box turned_room{room.height, room.length, room.width};
    const Box turned_body{body.width, body.length, body.height};
    ASSERT_EQ(model::best_grid(turned_room, turned_body).count(), before);
  }
}

TEST(Packing, EqualEdgesInAnyUnitHoldWhatTheyDivide) {
  // 0.3/0.1 is less than 3 in binary.
  EXPECT_EQ(model::best_grid({0.3, 0.3, 0.3}, {0.1, 0.1, 0.1}).count(), 27);
  EXPECT_EQ(model::best_grid({12 * 0.0254, 0.0254, 0.0254}, {0.0254, 0.0254, 0.0254}).count(), 12);
  EXPECT_EQ(model::best_grid({0.3, 0.3, 0.2999}, {0.1, 0.1, 0.1}).count(), 18);
}

TEST(Packing, CylindersOccupyTheirPrismAndKeepTheirVolume) {
  const model::Body body = model::body_of(model::Cylinder{0.021, 0.070});
  // Of the text: pi/4 d2 h of a 21 x 70 mm cylinder is 24.245 cm3.
  EXPECT_NEAR(body.volume, 24.245e-6, 1e-9);
  EXPECT_EQ(model::best_grid({0.42, 0.21, 0.07}, body.box).count(), 200);
  EXPECT_EQ(model::best_grid({0.42, 0.21, 0.069}, body.box).count(), 180);
}

TEST(Packing, RoomsAddUp) {
  const std::vector<Box> rooms = {{0.3, 0.2, 0.1}, {0.1, 0.1, 0.05}, {0.25, 0.11, 0.1}};
  EXPECT_EQ(model::grid_count(rooms, {0.1, 0.1, 0.1}), 6 + 0 + 2);
  EXPECT_NEAR(model::room_volume(rooms), 0.006 + 0.0005 + 0.00275, 1e-15);
}

// --- files and rules

const std::string kMass = "  mass: 96 kg\n";

std::string with_space(const std::string& space) {
  return edited(kTinyRequirement, kMass, kMass + "  space: " + space + "\n");
}

std::string sized(const std::string& cell, const std::string& motor) {
  std::string parts(kTinyParts);
  if (!cell.empty()) {
    parts = edited(parts, "    price: 95\n", "    price: 95\n    size: " + cell + "\n");
  }
  if (!motor.empty()) {
    parts = edited(parts, "    price: 640\n", "    price: 640\n    size: " + motor + "\n");
  }
  return parts;
}

TEST(LoadSpace, RoomsAndSizesAreRead) {
  Loaded loaded;
  load_into(loaded,
            with_space("{battery: [{length: 400 mm, width: 8 in, height: 0.22 m}, {length: 100 mm, "
                       "width: 100 mm, height: 90 mm}], motor: {diameter: 210 mm, length: 1 ft}}"),
            sized("{length: 173 mm, width: 48 mm, height: 170 mm}",
                  "{diameter: 200 mm, length: 180 mm}"));
  EXPECT_LOADS(loaded);
  const spec::Room& room = loaded.requirement().bike.space.value();
  ASSERT_EQ(room.battery.size(), 2U);
  EXPECT_NEAR(room.battery[0].width, 0.2032, 1e-12);
  EXPECT_NEAR(room.battery[1].height, 0.09, 1e-12);
  EXPECT_NEAR(room.motor.value().length, 0.3048, 1e-12);
  const model::Body& cell = loaded.catalogue().cells.front().size.value();
  EXPECT_NEAR(cell.box.length, 0.173, 1e-12);
  EXPECT_NEAR(cell.volume, 0.173 * 0.048 * 0.170, 1e-12);
  EXPECT_FALSE(cell.round);
  EXPECT_NEAR(loaded.catalogue().motors.front().size.value().diameter, 0.2, 1e-12);
}

TEST(LoadSpace, ARoundCellHasDiameterAndLength) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement, sized("{diameter: 40 mm, length: 145 mm}", ""));
  EXPECT_LOADS(loaded);
  const model::Body& cell = loaded.catalogue().cells.front().size.value();
  EXPECT_TRUE(cell.round);
  EXPECT_NEAR(cell.box.length, 0.145, 1e-12);
  EXPECT_NEAR(cell.box.height, 0.040, 1e-12);
}

TEST(LoadSpace, WhatIsNoRoomIsAnErrorAtItsLine) {
  const std::pair<const char*, const char*> bad[] = {
      {"{battery: []}", "battery"},
      {"{battery: {length: 1 m, width: 1 m, height: 1 m}}", "battery"},
      {"{battery: [{length: 400 mm, width: 200 mm}]}", "height"},
      {"{battery: [{length: 400 mm, width: 200 mm, height: 220}]}", "length"},
      {"{battery: [{length: 400 m, width: 200 mm, height: 220 mm}]}", "length"},
      {"{motor: {diameter: 0.5 mm, length: 200 mm}}", "diameter"},
      {"{motor: {diameter: 200 mm}}", "length"},
      {"{engine: {diameter: 200 mm, length: 200 mm}}", "engine"}};
  for (const auto& [space, words] : bad) {
    Loaded loaded;
    load_into(loaded, with_space(space), kTinyParts);
    EXPECT_TRUE(one_error(loaded, "bike.yaml", 5, words)) << space;
  }
}

TEST(LoadSpace, WhatIsNoSizeIsAnErrorAtItsLine) {
  const std::pair<const char*, const char*> bad[] = {
      {"{length: 100 mm, width: 100 mm}", "height"},
      {"{diameter: 40 mm}", "length"},
      {"{diameter: 40 mm, length: 145 mm, width: 40 mm}", "width"},
      {"{length: 100 mm, width: 100 mm, height: 0 mm}", "height"},
      {"40 mm", "size"}};
  for (const auto& [size, words] : bad) {
    Loaded cell;
    load_into(cell, kTinyRequirement, sized(size, ""));
    EXPECT_TRUE(one_error(cell, "parts.yaml", 27, words)) << size;
  }
}

// A pack of 16 cells of 100 x 50 x 100 mm.
constexpr const char* kCell = "{length: 100 mm, width: 50 mm, height: 100 mm}";

Evaluated battery(const std::string& boxes, const std::string& cell = kCell) {
  return Evaluated(with_space("{battery: [" + boxes + "]}"), sized(cell, ""));
}

TEST(RoomRules, BatteryRoomProvesAFit) {
  // 4 x 2 x 2 exactly.
  const Evaluated exact = battery("{length: 200 mm, width: 200 mm, height: 200 mm}");
  EXPECT_EQ(outcome(exact.row("battery room")), "holds");
  EXPECT_EQ(exact.row("battery room").value, 16);
  EXPECT_EQ(exact.row("battery room").limit, 16);
  EXPECT_EQ(outcome(exact.row("battery volume")), "holds");
  EXPECT_NEAR(exact.row("battery volume").value, 8, 1e-9);
  EXPECT_TRUE(exact.design().rejected_by().empty()) << exact.design().rejected_by().front();
}

TEST(RoomRules, BatteryRoomCautionsWhenOnlyTheVolumeFits) {
  // One millimetre short: half of the cells by the grid, yet more litres than the cells need.
  const Evaluated slim = battery("{length: 199 mm, width: 199 mm, height: 250 mm}");
  EXPECT_EQ(outcome(slim.row("battery room")), "fails");
  EXPECT_EQ(slim.row("battery room").kind, rules::Kind::kCaution);
  EXPECT_NE(slim.row("battery room").reason.find("the volume would do"), std::string::npos);
  EXPECT_EQ(outcome(slim.row("battery volume")), "holds");
  EXPECT_TRUE(slim.design().rejected_by().empty());
}

TEST(RoomRules, BatteryVolumeRejectsWhatFitsInNoWay) {
  const Evaluated small = battery("{length: 200 mm, width: 200 mm, height: 199.9 mm}");
  EXPECT_EQ(outcome(small.row("battery volume")), "fails");
  EXPECT_EQ(small.design().rejected_by(), std::vector<std::string_view>{"battery volume"});
  EXPECT_EQ(outcome(small.row("battery room")), "fails");
  EXPECT_EQ(small.row("battery room").reason, "cells");
  // Just enough volume in a shape that holds none.
  const Evaluated flat = battery("{length: 1000 mm, width: 401 mm, height: 20 mm}");
  EXPECT_EQ(outcome(flat.row("battery volume")), "holds");
  EXPECT_EQ(flat.row("battery room").value, 0);
}

TEST(RoomRules, RoomsAddUpAndRoundCellsMayStandCloserThanTheirPrisms) {
  const Evaluated two = battery(
      "{length: 200 mm, width: 100 mm, height: 200 mm}, {length: 50 mm, width: 100 mm, height: 800 "
      "mm}");
  EXPECT_EQ(two.row("battery room").value, 16);
  EXPECT_EQ(outcome(two.row("battery room")), "holds");
  // 16 prisms of 50 x 50 x 100 mm are 4 l, the cylinders 3.14 l: 3.5 l may do, 3.1 l cannot.
  const char* round = "{diameter: 50 mm, length: 100 mm}";
  const Evaluated close = battery("{length: 175 mm, width: 200 mm, height: 100 mm}", round);
  EXPECT_EQ(outcome(close.row("battery room")), "fails");
  EXPECT_EQ(outcome(close.row("battery volume")), "holds");
  const Evaluated tight = battery("{length: 155 mm, width: 200 mm, height: 100 mm}", round);
  EXPECT_EQ(outcome(tight.row("battery volume")), "fails");
}

TEST(RoomRules, MotorRoomTakesDiameterAndLength) {
  const auto motor = [](const char* size) {
    return Evaluated(with_space("{motor: {diameter: 200 mm, length: 180 mm}}"), sized("", size));
  };
  const Evaluated inside = motor("{diameter: 200 mm, length: 180 mm}");
  EXPECT_EQ(outcome(inside.row("motor room diameter")), "holds");
  EXPECT_EQ(outcome(inside.row("motor room length")), "holds");
  const Evaluated thick = motor("{diameter: 200.1 mm, length: 180 mm}");
  EXPECT_EQ(thick.design().rejected_by(), std::vector<std::string_view>{"motor room diameter"});
  // It is not turned: short and thick does not fit long and slim.
  const Evaluated longer = motor("{diameter: 180 mm, length: 180.1 mm}");
  EXPECT_EQ(longer.design().rejected_by(), std::vector<std::string_view>{"motor room length"});
}

TEST(RoomRules, AreUncheckedWithoutTheirData) {
  const std::string all =
      "{battery: [{length: 1 m, width: 1 m, height: 1 m}], motor: {diameter: 1 m, length: 1 m}}";
  const Evaluated no_space(kTinyRequirement, sized(kCell, "{diameter: 200 mm, length: 180 mm}"));
  const Evaluated no_sizes(with_space(all), kTinyParts);
  const Evaluated no_battery(with_space("{motor: {diameter: 1 m, length: 1 m}}"), kTinyParts);
  const Evaluated no_motor(with_space("{battery: [{length: 1 m, width: 1 m, height: 1 m}]}"),
                           kTinyParts);
  for (const char* rule : {"battery volume", "battery room"}) {
    EXPECT_EQ(outcome(no_space.row(rule)), "lacks bike.space");
    EXPECT_EQ(outcome(no_sizes.row(rule)), "lacks cells.size");
    EXPECT_EQ(outcome(no_battery.row(rule)), "lacks bike.space.battery");
  }
  for (const char* rule : {"motor room diameter", "motor room length"}) {
    EXPECT_EQ(outcome(no_space.row(rule)), "lacks bike.space");
    EXPECT_EQ(outcome(no_sizes.row(rule)), "lacks motors.size");
    EXPECT_EQ(outcome(no_motor.row(rule)), "lacks bike.space.motor");
  }
}

TEST(RoomRules, TheReportSaysHowTheCellsStand) {
  const Evaluated fits = battery("{length: 60 mm, width: 210 mm, height: 810 mm}");
  std::ostringstream text;
  report::write_design_text(text, fits.design(), fits.days(), fits.job(),
                            report::RuleRows::kTelling, report::Colour::kNever);
  EXPECT_NE(text.str().find("16 cells to place. Room 1 holds 16: 1 x 2 x 8 along length, width"),
            std::string::npos)
      << text.str();
  std::ostringstream json;
  report::write_evaluation(json, fits.design(), fits.days(), fits.job(),
                           report::RuleRows::kTelling);
  EXPECT_NE(json.str().find("{\"cells\": 16, \"along\": [1, 2, 8], \"cell_edges\": [\"width\", "
                            "\"length\", \"height\"]}"),
            std::string::npos)
      << json.str();
}

}  // namespace
}  // namespace sprocketry::test
