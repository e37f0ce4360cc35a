#include "spec/limits.hpp"
#include "spec/load_sections.hpp"

namespace sprocketry::spec {
namespace {

namespace rule = limits::bike;

void check_between_axles(Reader& bike, Reader& centre, double behind, double wheelbase) {
  if (behind < wheelbase) return;
  document::Diagnostic finding;
  finding.mark = centre.mark_of("behind_front_axle");
  finding.message =
      "the centre of gravity does not lie between the axles: " + parts::number_text(behind) +
      " m behind the front axle, with a wheelbase of " + parts::number_text(wheelbase) + " m";
  finding.hint = "measure along the ground from below the front axle; half the wheelbase is usual";
  if (bike.has("wheelbase")) {
    finding.second_mark = bike.mark_of("wheelbase");
    finding.second_message = "the wheelbase stands here";
  }
  bike.findings().diagnostics.add(std::move(finding));
}

// Wheelbase and centre of gravity, which decide grip and lift-off.
void read_stance(Reader& bike, Bike& result) {
  result.wheelbase = bike.quantity_or("wheelbase", rule::kWheelbase, "1.35 m",
                                      "Cossalter, Motorcycle Dynamics, ch. 1: 1.20 m light to 1.45 "
                                      "m sport and naked machines (from memory)");
  constexpr std::string_view kHeightSource =
      "Cossalter, Motorcycle Dynamics, ch. 3: 0.5 to 0.7 m with rider (from memory)";
  constexpr std::string_view kBehindSource =
      "Cossalter, Motorcycle Dynamics: 43 to 57 % of the weight on the front wheel (from memory)";
  const auto record_behind = [&](Reader* owner, double value) {
    const std::string text = parts::number_text(value) + " m (half the wheelbase)";
    if (owner != nullptr) {
      owner->record_default("behind_front_axle", text, kBehindSource);
    } else {
      bike.record_default("centre_of_gravity.behind_front_axle", text, kBehindSource);
    }
  };
  const double middle = result.wheelbase / 2;
  auto centre = bike.optional_map("centre_of_gravity", "`centre_of_gravity`",
                                  "{height: 600 mm, behind_front_axle: 660 mm}");
  if (!centre) {
    constexpr double kHeight = 0.60;
    bike.record_default("centre_of_gravity.height", "0.60 m", kHeightSource);
    record_behind(nullptr, middle);
    result.centre_of_gravity_height =
        bike.derived("centre_of_gravity.height", kHeight, rule::kHeight, "m");
    result.centre_of_gravity_behind =
        bike.derived("centre_of_gravity.behind_front_axle", middle, rule::kBehindFrontAxle, "m");
    return;
  }
  result.centre_of_gravity_height =
      centre->quantity_or("height", rule::kHeight, "0.60 m", kHeightSource);
  const auto behind = centre->optional_quantity("behind_front_axle", rule::kBehindFrontAxle);
  result.centre_of_gravity_behind = behind.value_or(middle);
  if (!centre->has("behind_front_axle")) {
    record_behind(&*centre, middle);
    result.centre_of_gravity_behind =
        centre->derived("behind_front_axle", middle, rule::kBehindFrontAxle, "m");
  }
  if (behind) check_between_axles(bike, *centre, *behind, result.wheelbase);
  centre->finish();
}

void read_centre_distance(Reader& bike, Bike& result) {
  auto distance =
      bike.map("centre_distance", "`centre_distance` of the bike", "{min: 560 mm, max: 590 mm}");
  if (!distance) return;
  const auto min = distance->quantity("min", rule::kCentreDistance);
  const auto max = distance->quantity("max", rule::kCentreDistance);
  distance->check_ascending("min", min, "max", max, "write the shorter distance as `min`");
  distance->finish();
  result.min_centre_distance = min.value_or(0);
  result.max_centre_distance = max.value_or(0);
}

void read_rear_mount(Reader& bike, RearMount& rear) {
  auto mount = bike.optional_map("rear_sprocket", "`rear_sprocket` of the bike",
                                 "{bolt_circle: 104 mm, bolts: 4}");
  if (!mount) return;
  rear.bolt_circle = mount->optional_quantity("bolt_circle", parts::limits::sprocket::kBoltCircle);
  rear.bolts = mount->optional_integer("bolts", parts::limits::sprocket::kBolts);
  rear.max_diameter = mount->optional_quantity("max_diameter", rule::kMaxDiameter);
  mount->finish();
}

}  // namespace

void read_bike(Reader& root, const Surrounding& around, Requirement& requirement) {
  auto bike = root.map("bike", "`bike`", "{mass: 96 kg, tyre: {size: 3.00-18}, ...}");
  if (!bike) return;
  Bike& result = requirement.bike;
  const auto mass = bike->quantity("mass", rule::kMass);
  result.mass = mass.value_or(0);
  result.max_gross_mass = bike->optional_quantity("max_gross_mass", rule::kMaxGrossMass);
  bike->check_ascending("mass", mass, "max_gross_mass", result.max_gross_mass,
                        "the plate's gross mass includes the chassis, the parts and the rider",
                        true);
  read_stance(*bike, result);
  read_road(*bike, requirement);
  result.accessories =
      bike->quantity_or("accessories", rule::kAccessories, "50 W", kCommonPractice);
  result.wheel_inertia = bike->quantity_or(
      "wheel_inertia", rule::kWheelInertia, "1.2 kg m2",
      "Cossalter, Motorcycle Dynamics: about 0.6 front and 0.8 kg m2 rear for a road machine, "
      "reduced for a light one (from memory)");
  read_tyre(*bike, around, requirement);
  read_centre_distance(*bike, result);
  read_primary(*bike, result);
  read_rear_mount(*bike, result.rear);
  read_space(*bike, result);
  read_swing_arm(*bike, result);
  read_chain_line(*bike, result);
  bike->finish();
}

void read_loads(Reader& root, Requirement& requirement) {
  if (auto rider = root.map("rider", "`rider`", "{mass: 80 kg}")) {
    requirement.rider_mass = rider->quantity("mass", limits::load::kRider).value_or(0);
    rider->finish();
  }
  if (auto load = root.optional_map("load", "`load`", "{mass: 10 kg}")) {
    requirement.load_mass = load->quantity("mass", limits::load::kLoad).value_or(0);
    load->finish();
  } else if (!root.has("load")) {
    root.record_default("load.mass", "0 kg", kCommonPractice);
  }
}

}  // namespace sprocketry::spec
