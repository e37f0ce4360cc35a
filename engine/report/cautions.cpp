#include "report/cautions.hpp"

#include <algorithm>
#include <array>
#include <string_view>

namespace sprocketry::report {
namespace {

constexpr std::array<std::string_view, 7> kCautions = {
    "A pack can drive thousands of amperes into a short circuit and cannot be switched off: fuse "
    "it "
    "at the pack with a fuse rated for its DC voltage, insulate tools, take off rings.",
    "Above 60 V DC a touch can kill. Capacitors stay charged after switching off.",
    "The wheel may turn the moment power is connected: first spin with the wheel off the ground, "
    "the "
    "guard on and nobody beside it.",
    "Chain and sprockets pinch and take fingers: guard the run, keep clear, adjust only with the "
    "power disconnected.",
    "Motor, controller and cables get hot enough to burn.",
    "Welding a sprocket to a hub, and any change to frame, brakes or swing-arm, is work for "
    "somebody "
    "licensed to do it; local law on registration and inspection decides what may be ridden.",
    "All figures are computed, not measured: expect 10 to 20 % difference until the model is "
    "calibrated with your own bike.",
};

}  // namespace

std::vector<std::string> cautions(const spec::Requirement& requirement) {
  std::vector<std::string> list(kCautions.begin(), kCautions.end());
  if (const auto& demanded = requirement.must.vehicle_class) {
    const auto known = spec::vehicle_classes();
    const bool named =
        std::ranges::find(known, demanded->name, &spec::VehicleClass::name) != known.end();
    list.push_back("The limits of class " + demanded->name +
                   (named ? " are those of Regulation (EU) 168/2013, Annex I, written from memory"
                          : " are your own") +
                   ": national law and its authority decide whether the bike is in the class.");
    if (demanded->top_speed) {
      list.emplace_back(
          "No speed limiter of a controller is computed: here the gearing and the voltage alone "
          "keep "
          "the bike to the speed of its class.");
    }
  }
  return list;
}

void write_cautions(std::ostream& out, const spec::Requirement& requirement, Colour colour) {
  out << bold("Before you build", colour) << '\n';
  for (const std::string& caution : cautions(requirement)) {
    std::string text = wrapped(caution, "    ");
    text[2] = '-';
    out << text;
  }
}

}  // namespace sprocketry::report
