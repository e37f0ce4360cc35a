#include "search/sheet.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "model/constants.hpp"
#include "search/evaluator.hpp"
#include "units/units.hpp"

namespace sprocketry::search {
namespace {

// How long a precharge may take, s. Common practice, no source.
constexpr double kPrechargeTime = 2.0;
constexpr double kWarmCable = model::kZeroCelsius + 60.0;

class Order {
 public:
  // A part whose option costs `price`: nothing when it is owned.
  void part(std::string item, const std::string& id, Money listed, Money price) {
    lines_.push_back({std::move(item), id, "", 1, price, price, listed > 0 && price == 0});
  }
  void several(std::string item, const std::string& id, std::string unit, int quantity, Money each,
               bool owned) {
    const Money paid = owned ? 0 : each;
    lines_.push_back(
        {std::move(item), id, std::move(unit), quantity, paid, paid * quantity, owned});
  }
  std::vector<OrderLine> take() { return std::move(lines_); }

 private:
  std::vector<OrderLine> lines_;
};

void order_pack(Order& order, const spec::Job& job, const PackOption& pack) {
  const parts::PackPart& part = pack.part;
  const parts::CellPart& cell = *job.catalogue.find_cell(part.cell_id);
  const bool owned = part.price > 0 && pack.price == 0;
  const int count = part.model.series * part.model.parallel;
  order.several("cells of pack " + part.id, cell.id, "", count, cell.price, owned);
  const Money kit = part.price - cell.price * count;
  if (kit != 0) {
    order.several("case, links and management board of the pack", part.cell_id, "", 1, kit, owned);
  }
}

void order_chain(Order& order, const ChainOption& chain, const Design& d) {
  const parts::ChainPart& part = *chain.part;
  const bool owned = chain.owned;
  if (!d.chain_order) return;
  if (part.box_links > 0) {
    order.several("chain", part.id, "box of " + std::to_string(part.box_links) + " links",
                  d.chain_order->boxes, part.price, owned);
  } else {
    order.several("chain", part.id, "links", d.chain_order->links, part.price, owned);
  }
}

template <typename Option>
void order_sprocket(Order& order, const std::string& which, const Option& option) {
  const Money listed = option.family->price.at(option.teeth);
  const Money bought = option.price - option.family->fabrication;
  const std::string id = option.family->id + ':' + std::to_string(option.teeth);
  order.part(which + " sprocket, " + std::to_string(option.teeth) + " teeth", id, listed, bought);
  if (option.family->fabrication != 0) {
    order.several("welding and machining of the " + which + " sprocket", id, "", 1,
                  option.family->fabrication, false);
  }
}

std::vector<OrderLine> order_lines(const spec::Job& job, const Space& space, const Combination& c,
                                   const Design& d) {
  Order order;
  const MotorOption& motor = space.motors[c.motor];
  const ControllerOption& controller = space.controllers[c.controller];
  const ChargerOption& charger = space.chargers[c.charger];
  order.part("motor", motor.part->id, motor.part->price, motor.price);
  order.part("controller", controller.part->id, controller.part->price, controller.price);
  order_pack(order, job, space.packs[c.pack]);
  if (charger.part) order.part("charger", charger.part->id, charger.part->price, charger.price);
  order_chain(order, space.chains[c.chain], d);
  order_sprocket(order, "front", space.fronts[c.front]);
  order_sprocket(order, "rear", space.rears[c.rear]);
  if (const auto& primary = job.requirement.bike.primary) {
    order.several("first stage", "bike.primary", "", 1, primary->price, false);
  }
  for (const ExtraOption& extra : space.extras) {
    if (std::ranges::find(d.extras, extra.part) == d.extras.end()) continue;
    order.part("extra", extra.part->id, extra.part->price, extra.price);
  }
  return order.take();
}

Wiring make_wiring(const Design& d) {
  const parts::MotorPart& motor = *d.parts.motor;
  const model::Controller& controller = d.parts.controller->model;
  const model::Pack& pack = d.parts.pack->model;
  Wiring w;
  w.full_voltage = pack.full_voltage;
  w.battery_current = d.settings.battery_current;
  const model::Pack& as_new = d.parts.pack->as_new;
  w.short_circuit = as_new.full_voltage / as_new.resistance;
  w.fuse = model::fuse_rating(w.battery_current);
  // Beside a motor the air is hot: what the cable carries there must be what the fuse lets pass.
  if (!std::isnan(w.fuse)) w.battery_cable = model::smallest_cable(w.fuse / model::kWarmSpace);
  if (w.battery_cable) {
    w.battery_drop =
        2.0 * w.battery_current * model::cable_resistance(w.battery_cable->area, kWarmCable);
  }
  const double peak = d.settings.motor_current;
  w.motor_current = std::min({motor.model.continuous_current, controller.motor_continuous, peak});
  w.motor_peak_duration = std::numeric_limits<double>::infinity();
  if (peak > motor.model.continuous_current) w.motor_peak_duration = motor.model.peak_duration;
  if (peak > controller.motor_continuous) {
    w.motor_peak_duration = std::min(w.motor_peak_duration, controller.peak_duration);
  }
  w.motor_peak = peak;
  if (motor.model.kind == model::MotorKind::kBrushless) {
    // A phase of a brushless motor carries sqrt(2/3) of the DC equivalent as rms.
    w.motor_current *= std::sqrt(2.0 / 3.0);
    w.motor_peak *= std::sqrt(2.0 / 3.0);
  }
  w.motor_cable = model::smallest_motor_cable(w.motor_current, w.motor_peak, w.motor_peak_duration);
  if (w.motor_cable) {
    w.motor_drop = w.motor_current * model::cable_resistance(w.motor_cable->area, kWarmCable);
  }
  if (controller.capacitance) {
    const double resistor = model::precharge_resistor(*controller.capacitance, kPrechargeTime);
    w.precharge = model::precharge(pack.full_voltage, *controller.capacitance, resistor);
  }
  return w;
}

AtCharge at_charge(const Setup& setup, const Design& d, const model::Gearing& gearing,
                   const model::Rolling& rolling, double charge) {
  const model::Questions& q = setup.questions;
  const model::DriveLimits limits = model::drive_limits(
      d.parts.motor->model, d.parts.controller->model, d.parts.pack->model, charge,
      model::settled_at(d.parts.motor->model, q.winding_temperature, q.air_temperature), q.ceiling,
      d.settings.motor_current);
  AtCharge at;
  at.state_of_charge = charge;
  at.resting_voltage = limits.voltage;
  const auto corners = model::throttle_corners(limits, gearing, rolling.largest_force);
  at.full_throttle_current = model::peak_battery_current(
      limits, gearing, rolling.largest_force, corners, model::top_speed(limits, gearing, rolling));
  at.full_throttle_voltage = limits.voltage - at.full_throttle_current * limits.pack_resistance;
  at.free = model::free_run(limits, gearing);
  return at;
}

std::vector<double> speeds_to_try(const Setup& setup) {
  // What a speedometer does not tell apart is tried once.
  constexpr double kNear = 3 / 3.6;
  const bool miles = setup.requirement->units.speed == "mph";
  std::vector<double> speeds(
      setup.questions.cruise.begin(),
      setup.questions.cruise.begin() + static_cast<std::ptrdiff_t>(setup.listed_cruises));
  for (const char* usual :
       miles ? std::array{"25 mph", "45 mph"} : std::array{"40 km/h", "70 km/h"}) {
    const double speed = units::parse(usual, units::Dimension::kSpeed).value().value;
    const auto near = [&](double one) { return std::abs(one - speed) <= kNear; };
    if (std::ranges::none_of(speeds, near)) speeds.push_back(speed);
  }
  std::ranges::sort(speeds);
  const auto same = [](double a, double b) { return b - a < 1e-6; };
  speeds.erase(std::unique(speeds.begin(), speeds.end(), same), speeds.end());
  return speeds;
}

void expect(const Setup& setup, const Space& space, const Combination& c, Sheet& sheet) {
  const Design& d = sheet.design;
  const DriveOption drive = make_drive(space, c.chain, c.front, c.rear, d.chain);
  const model::Rolling rolling = make_rolling(setup, d.parts.motor->model, d.metrics.mass);
  constexpr std::array kCharges = {1.0, 0.5, 0.2};
  for (std::size_t i = 0; i < kCharges.size(); ++i) {
    sheet.charges[i] = at_charge(setup, d, drive.gearing, rolling, kCharges[i]);
  }
  const PreparedLevel level = prepare_level(setup, space, c.motor, c.controller, c.pack);
  for (const double speed : speeds_to_try(setup)) {
    sheet.speeds.push_back({speed, model::steady_draw(level.level.full, drive.gearing, rolling,
                                                      speed, setup.questions.accessories)});
  }
}

}  // namespace

Sheet make_sheet(const spec::Job& job, const Setup& setup, const Space& space,
                 const Combination& c) {
  Sheet sheet;
  sheet.design = evaluate_design(setup, space, c);
  sheet.order = order_lines(job, space, c, sheet.design);
  for (const OrderLine& line : sheet.order) sheet.price += line.sum;
  if (sheet.design.chain.fit && sheet.price != sheet.design.metrics.price) {
    throw std::logic_error("the order of " + rules::design_id(sheet.design.parts) +
                           " does not add up to its price");
  }
  sheet.days = pack_days(job, space, c);
  sheet.wiring = make_wiring(sheet.design);
  expect(setup, space, c, sheet);
  return sheet;
}

}  // namespace sprocketry::search
