#include "exactness/random_job.hpp"

#include <algorithm>
#include <array>
#include <string>

#include "model/constants.hpp"
#include "model/profile.hpp"
#include "parts/catalogue.hpp"
#include "spec/cycles.hpp"

namespace sprocketry::test {
namespace {

using parts::Money;

// splitmix64 (Steele, Lea, Flood 2014): the same numbers everywhere.
class Random {
 public:
  explicit Random(std::uint64_t seed) : state_(seed) {}
  std::uint64_t next() {
    std::uint64_t z = (state_ += 0x9e3779b97f4a7c15u);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
  }
  int integer(int low, int high) {
    return low + static_cast<int>(next() % static_cast<std::uint64_t>(high - low + 1));
  }
  // One of a few values, so that ties happen.
  double step(double low, double high) { return low + (high - low) * integer(0, 4) / 4.0; }
  bool chance(int percent) { return integer(1, 100) <= percent; }

 private:
  std::uint64_t state_;
};

Money money(Random& r, int low, int high) { return parts::kMoneyUnit * r.integer(low, high); }
constexpr double kRpm = 2.0 * model::kPi / 60.0;
constexpr double kInch = 0.0254;

parts::MotorPart motor(Random& r, const std::string& id) {
  parts::MotorPart m;
  m.id = id;
  m.price = money(r, 3, 6) * 100;
  m.mass = r.step(8, 16);
  m.model.kind = r.chance(70) ? model::MotorKind::kBrushed : model::MotorKind::kBrushless;
  m.model.torque_constant = model::torque_constant(r.step(40, 80) * kRpm);
  m.model.resistance = r.step(0.006, 0.02);
  m.model.loss = {r.step(0.3, 1.0), r.chance(50) ? 0.0 : r.step(0.0, 0.001)};
  m.model.max_voltage = r.step(70, 110);
  m.model.max_speed = r.step(4500, 9000) * kRpm;
  m.model.continuous_current = r.step(60, 160);
  m.model.peak_current = m.model.continuous_current * r.step(1.0, 3.0);
  m.model.peak_duration = r.step(5, 90);
  m.model.thermal = {0.06, r.step(0.06, 0.2), 600, 4000, model::kZeroCelsius + 150};
  m.model.rotor_inertia = r.step(0.002, 0.01);
  if (r.chance(90))
    m.shaft = parts::Shaft{r.chance(90) ? 0.875 * kInch : 0.75 * kInch, 0.1875 * kInch, 0.045};
  if (r.chance(70)) m.size = model::Cylinder{r.step(0.15, 0.22), r.step(0.15, 0.25)};
  return m;
}

parts::ControllerPart controller(Random& r, const std::string& id) {
  parts::ControllerPart c;
  c.id = id;
  c.price = money(r, 2, 4) * 100;
  c.mass = r.step(1, 3);
  c.model.drives_brushed = r.chance(90);
  c.model.drives_brushless = !c.model.drives_brushed || r.chance(80);
  c.model.min_voltage = r.step(20, 36);
  c.model.max_voltage = r.step(70, 110);
  c.model.battery_current = r.step(80, 300);
  c.model.motor_current = r.step(150, 400);
  c.model.motor_continuous = c.model.motor_current * r.step(0.4, 1.0);
  c.model.peak_duration = 60;
  c.model.settable = r.chance(90);
  c.model.efficiency = r.step(0.92, 0.99);
  return c;
}

parts::CellPart cell(Random& r, const std::string& id) {
  parts::CellPart c;
  c.id = id;
  c.price = money(r, 40, 60);
  c.mass = r.step(1, 3);
  const bool lead = r.chance(10);
  c.chemistry = lead ? "lead_acid" : "lfp";
  c.model.capacity = r.step(30, 100) * 3600;
  c.model.resistance = r.step(0.0005, 0.003);
  c.model.nominal_voltage = 3.2;
  c.model.open_circuit = {{0, 2.8}, {0.1, 3.2}, {0.5, 3.29}, {0.9, 3.34}, {1, 3.45}};
  c.model.full_voltage = 3.65;
  c.model.empty_voltage = r.step(2.4, 2.8);
  c.model.usable_from = 1;
  c.model.usable_to = r.step(0.1, 0.5);
  c.model.continuous_current = r.step(50, 150);
  c.model.peak_current = c.model.continuous_current * r.step(1, 3);
  c.model.charge_current = r.step(20, 50);
  c.model.peukert_exponent = lead ? 1.15 : 1.0;
  c.kit = {money(r, 50, 52), 3, r.step(0.001, 0.003), std::nullopt};
  if (r.chance(50)) c.kit.board_current = r.step(100, 250);
  if (r.chance(40)) {
    c.size = model::body_of(model::Box{r.step(0.10, 0.16), r.step(0.02, 0.04), r.step(0.08, 0.12)});
  } else if (r.chance(50)) {
    c.size = model::body_of(model::Cylinder{r.step(0.02, 0.05), r.step(0.10, 0.14)});
  }
  return c;
}

parts::ChargerPart charger(Random& r, const std::string& id) {
  parts::ChargerPart c;
  c.id = id;
  c.price = money(r, 1, 3) * 100;
  c.chemistries =
      r.chance(70) ? std::vector<std::string>{"lead_acid", "lfp"} : std::vector<std::string>{"lfp"};
  c.min_full_voltage = r.step(36, 46);
  c.max_full_voltage = r.step(66, 100);
  c.current = r.step(5, 22);
  c.carried = r.chance(50);
  c.mass = r.chance(30) ? 0.0 : r.step(2, 4);
  return c;
}

// Mostly sizes that go together to standard, some only just, some not at all; one is in no table.
std::string chain_size(Random& r) {
  if (r.chance(96)) return r.chance(80) ? "420" : "41";
  constexpr std::array kOthers = {"420H", "415", "40", "428", "520", "4127"};
  return kOthers[static_cast<std::size_t>(r.integer(0, 5))];
}

parts::ChainPart chain(Random& r, const std::string& id) {
  parts::ChainPart c;
  c.id = id;
  c.size = chain_size(r);
  c.model.pitch = c.size == "520" ? 0.015875 : 0.0127;
  c.model.pin_diameter = c.size == "520" ? 0.00508 : 0.00358;
  // Stated dimensions count more than the table's.
  if (r.chance(5)) c.roller_diameter = r.step(0.0076, 0.0080);
  if (r.chance(5)) c.inner_width = r.step(0.0050, 0.0080);
  c.model.mass_per_length = r.step(0.5, 1.0);
  c.model.tensile_strength = r.chance(85) ? 15600 : r.step(2000, 5000);
  c.model.fixed_loss = r.step(0.0, 0.02);
  c.model.friction = r.step(0.08, 0.16);
  if (r.chance(70)) c.max_speed = r.step(10, 25);
  c.box_links = r.chance(50) ? r.integer(80, 130) : 0;
  c.price = c.box_links ? money(r, 20, 30) : parts::kMoneyUnit / 4;
  return c;
}

std::vector<int> some_teeth(Random& r, int low, int high, int most) {
  std::vector<int> teeth;
  const int count = r.integer(1, most);
  teeth.reserve(static_cast<std::size_t>(count));
  for (int i = 0; i < count; ++i) teeth.push_back(r.integer(low, high));
  std::ranges::sort(teeth);
  teeth.erase(std::unique(teeth.begin(), teeth.end()), teeth.end());
  return teeth;
}

parts::FrontSprocketFamily front(Random& r, const std::string& id) {
  parts::FrontSprocketFamily f;
  f.id = id;
  f.size = chain_size(r);
  f.teeth = some_teeth(r, r.chance(10) ? 8 : 10, 17, 2);
  f.bore = r.chance(90) ? 0.875 * kInch : 0.75 * kInch;
  f.key = 0.1875 * kInch;
  if (r.chance(60)) f.hub_diameter = r.step(0.026, 0.034);
  // Short hubs and soft keys, so that the key may decide.
  if (r.chance(60)) f.hub_length = r.step(0.008, 0.03);
  if (r.chance(20)) f.set_screws = parts::SetScrews{0.25 * kInch, 1};
  f.key_strength = r.step(300e6, 400e6);
  f.price = {money(r, 8, 10), r.chance(50) ? 0 : parts::kMoneyUnit / 3};
  f.mass = {r.step(0.3, 0.6), r.chance(50) ? 0.0 : 0.02};
  f.fabrication = r.chance(50) ? 0 : money(r, 10, 20);
  return f;
}

parts::RearSprocketFamily rear(Random& r, const std::string& id) {
  parts::RearSprocketFamily f;
  f.id = id;
  f.size = chain_size(r);
  f.teeth = some_teeth(r, 36, 68, 3);
  f.bolt_circle = r.chance(93) ? 0.104 : 0.110;
  if (r.chance(80)) f.bolts = 4;
  f.price = {money(r, 30, 32), parts::kMoneyUnit / 2};
  f.mass = {0.3, 0.012};
  return f;
}

parts::Catalogue catalogue(Random& r) {
  parts::Catalogue c;
  const auto fill = [&](auto& list, const std::string& stem, int most, auto make) {
    const int count = r.chance(2) ? 0 : r.integer(1, most);
    for (int i = 0; i < count; ++i) {
      list.push_back(make(r, stem + std::to_string(i)));
      // A twin differs in its name only.
      if (r.chance(12)) {
        list.push_back(list.back());
        list.back().id += "-twin";
      }
    }
    std::ranges::sort(list, {}, [](const auto& part) { return part.id; });
  };
  fill(c.motors, "motor", 2, motor);
  fill(c.controllers, "controller", 2, controller);
  fill(c.cells, "cell", 2, cell);
  if (!r.chance(20)) fill(c.chargers, "charger", 2, charger);
  fill(c.chains, "chain", 1 + static_cast<int>(r.next() % 2), chain);
  fill(c.front_sprockets, "front", 2, front);
  fill(c.rear_sprockets, "rear", 2, rear);
  for (int i = 0; i < r.integer(0, 2); ++i) {
    parts::Extra extra;
    extra.id = "extra" + std::to_string(i);
    extra.price = money(r, 10, 90);
    extra.mass = r.step(0, 1);
    if (r.chance(60)) extra.full_voltage.min = r.step(50, 70);
    if (r.chance(30)) extra.battery_current.max = r.step(100, 200);
    c.extras.push_back(extra);
  }
  return c;
}

void demands(Random& r, spec::Requirement& q) {
  spec::Demands& m = q.must;
  if (r.chance(25)) m.top_speed = r.step(8, 20);
  if (r.chance(12)) m.sustained_speed = r.step(6, 16);
  if (r.chance(15)) m.pull_away_time = r.step(6, 20);
  if (r.chance(15)) m.range = r.step(5e3, 50e3);
  if (r.chance(12)) m.cruise_range.push_back({r.step(6, 14), r.step(5e3, 40e3)});
  if (r.chance(25)) m.climbs.push_back({r.step(0.02, 0.2), r.step(5, 12), r.step(30, 600)});
  if (r.chance(20)) m.climbs.push_back({-0.05, 8, 60});
  if (r.chance(12)) m.hill_start_grade = r.step(0.02, 0.3);
  if (r.chance(30)) m.battery_current = r.step(80, 250);
  if (r.chance(12)) m.cruise_current.push_back({10.0, r.step(20, 80)});
  if (r.chance(15)) m.price = money(r, 18, 35) * 100;
  if (r.chance(15)) m.mass = r.step(150, 250);
  if (r.chance(12)) m.charge_time = r.step(2, 12) * 3600;
  if (r.chance(12)) m.keeps_up = r.step(0.6, 1.0);
}

model::Profile profile(Random& r) {
  if (r.chance(25)) return {{0, 12, 0}, {1, 12, 0}};
  const spec::Cycle& cycle = *spec::find_cycle(r.chance(80) ? "r40-urban" : "nycc");
  const bool hilly = r.chance(30);
  model::Profile p;
  for (std::size_t i = 0; i < cycle.time.size(); ++i) {
    p.push_back(
        {cycle.time[i], cycle.speed[i], hilly ? 0.03 * static_cast<double>(i % 5) - 0.06 : 0.0});
  }
  return p;
}

void objectives(Random& r, spec::Requirement& q) {
  std::vector<std::string> names = {"pull_away",   "range",       "price",           "mass",
                                    "top_speed",   "start_grade", "sustained_speed", "consumption",
                                    "charge_time", "winding_ride"};
  if (!q.cruise.empty()) names.push_back("cruise_current");
  if (!q.must.climbs.empty()) {
    names.push_back("climb_margin");
    names.push_back("climb_winding");
  }
  if (r.chance(40)) {
    q.objectives = {"pull_away", "range", "price"};
    return;
  }
  const int count = r.integer(2, 6);
  while (static_cast<int>(q.objectives.size()) < count) {
    const auto& name =
        names[static_cast<std::size_t>(r.integer(0, static_cast<int>(names.size()) - 1))];
    if (std::ranges::find(q.objectives, name) == q.objectives.end()) q.objectives.push_back(name);
  }
}

void owned(Random& r, const parts::Catalogue& c, spec::Requirement& q) {
  const auto maybe = [&](const auto& list, const std::string& suffix = "") {
    if (!list.empty() && r.chance(20)) q.owned.push_back(list.front().id + suffix);
  };
  maybe(c.motors);
  maybe(c.controllers);
  maybe(c.cells);
  maybe(c.chargers);
  maybe(c.chains);
  maybe(c.extras);
  maybe(c.rear_sprockets);
  if (!c.front_sprockets.empty() && !c.front_sprockets.front().teeth.empty()) {
    maybe(c.front_sprockets, ":" + std::to_string(c.front_sprockets.front().teeth.front()));
  }
}

// A stage before the chain; its output shaft is the motors', another one, or not stated.
void primary(Random& r, spec::Requirement& q) {
  if (!r.chance(25)) return;
  spec::Primary stage{r.step(0.8, 1.6), r.step(0.9, 1.0), std::nullopt, money(r, 0, 4) * 20,
                      r.step(0, 3)};
  if (r.chance(80)) {
    stage.output =
        parts::Shaft{r.chance(92) ? 0.875 * kInch : 0.75 * kInch, std::nullopt, std::nullopt};
    if (r.chance(80)) stage.output->key = 0.1875 * kInch;
  }
  q.bike.primary = stage;
}

// Rooms that some packs fill, some only by volume, some not at all.
void space(Random& r, spec::Requirement& q) {
  if (!r.chance(40)) return;
  spec::Room room;
  for (int i = r.integer(0, 2); i > 0; --i) {
    room.battery.push_back({r.step(0.3, 0.6), r.step(0.15, 0.3), r.step(0.15, 0.3)});
  }
  if (r.chance(70)) room.motor = model::Cylinder{r.step(0.20, 0.28), r.step(0.24, 0.34)};
  q.bike.space = room;
}

// The pack's day, magnets that weaken, a legal class.
void use(Random& r, parts::Catalogue& c, spec::Requirement& q) {
  if (r.chance(30)) {
    q.conditions.pack = {model::kZeroCelsius + r.step(-20, 30), r.step(0.7, 1.0)};
    for (parts::CellPart& cell : c.cells) {
      cell.model.cold = {model::kZeroCelsius, r.step(1, 3), r.step(0.6, 1.0)};
    }
  }
  if (r.chance(30)) {
    for (parts::MotorPart& motor : c.motors) {
      if (r.chance(50)) motor.model.magnet = model::Magnet::kFerrite;
    }
  }
  if (!r.chance(12)) return;
  spec::VehicleClass own{"own", {}, {}, {}};
  if (r.chance(50)) own.top_speed = r.step(15, 30);
  if (r.chance(50)) own.power = r.step(2000, 12000);
  if (r.chance(50)) own.power_per_mass = r.step(20, 100);
  q.must.vehicle_class = own;
}

}  // namespace

spec::Job random_job(std::uint64_t seed) {
  Random r(seed);
  spec::Job job;
  job.catalogue = catalogue(r);
  spec::Requirement& q = job.requirement;
  q.bike.mass = r.step(80, 120);
  if (r.chance(30)) q.bike.max_gross_mass = r.step(240, 330);
  q.bike.wheelbase = 1.35;
  q.bike.centre_of_gravity_height = r.step(0.5, 0.7);
  q.bike.centre_of_gravity_behind = 0.675;
  if (r.chance(80)) {
    q.bike.road = model::RoadLoad{r.step(0.01, 0.03), 0, r.step(0.4, 0.7)};
  } else if (r.chance(50)) {
    q.bike.road = model::CoastDown{20, r.step(0, 1), 0.35, 0, 0};
  } else {
    q.bike.road =
        r.chance(50) ? model::RegulationLoad::kUnGtr2 : model::RegulationLoad::kCfr40Part86;
  }
  q.bike.accessories = r.chance(20) ? 0 : 50;
  q.bike.wheel_inertia = 1.2;
  q.bike.rolling_circumference = r.step(1.8, 2.0);
  q.bike.min_centre_distance = 0.56;
  q.bike.max_centre_distance = r.step(0.57, 0.61);
  q.bike.rear = {0.104, 4, 0.30};
  if (r.chance(20)) q.bike.rear = {};
  if (r.chance(30)) {
    const double degree = model::kPi / 180;
    const double rest = r.step(0, 16) * degree;
    q.bike.swing_arm =
        model::SwingArm{r.step(-0.02, 0.10), r.step(-0.03, 0.05), rest + r.step(0, 10) * degree,
                        rest, rest - r.step(0, 16) * degree};
    if (r.chance(50)) q.bike.pivot_diameter = r.step(0.01, 0.04);
  }
  q.rider_mass = 80;
  q.load_mass = r.step(0, 20);
  q.conditions = {model::kZeroCelsius + r.step(0, 40),
                  0,
                  r.chance(70) ? 0 : r.step(-4, 4),
                  r.chance(30) ? r.step(0.1, 0.3) : 0.9,
                  0.8,
                  0.2,
                  model::kZeroCelsius + 75,
                  {}};
  q.ride = profile(r);
  if (r.chance(50)) q.cruise = {40 / 3.6};
  if (r.chance(30)) q.cruise.push_back(70 / 3.6);
  if (r.chance(30)) q.accelerations = {{10, 15}};
  q.pull_away_to = r.step(8, 16);
  demands(r, q);
  q.choose.pack.series = r.chance(60) ? std::vector<int>{14, 16} : std::vector<int>{15, 18, 21};
  if (r.chance(30)) q.choose.pack.parallel = std::vector<int>{1, 2};
  q.choose.half_links = r.chance(20);
  objectives(r, q);
  owned(r, job.catalogue, q);
  primary(r, q);
  space(r, q);
  use(r, job.catalogue, q);
  if (r.chance(25)) q.charging.outlet_power = r.step(200, 3000);
  return job;
}

}  // namespace sprocketry::test
