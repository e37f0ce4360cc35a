#include "report/chain_reading.hpp"

#include <algorithm>
#include <cmath>

#include "model/constants.hpp"

namespace sprocketry::report {
namespace {

using model::Around;
using model::ChainFit;
using model::Doubt;

constexpr double kMillimetre = 1000.0;  // per m
constexpr double kDegree = 180.0 / model::kPi;
constexpr double kLeastWrap = 120.0;  // deg, Mott, Machine Elements, 4th ed.

std::string millimetres(double length) { return rounded(length * kMillimetre, 1) + " mm"; }

std::string sentence(Doubt doubt, const ChainAnswer& a) {
  const model::SprocketPair& s = a.sprockets;
  switch (doubt) {
    case Doubt::kTipsTouch:
      return "the sprockets would touch: their shafts are at least " +
             millimetres(model::least_centre_distance(s.pitch, s.front_teeth, s.rear_teeth)) +
             " apart";
    case Doubt::kFewPitches:
      return "fewer than " + rounded(model::kFewestPitches, 0) +
             " pitches from shaft to axle: shorter than handbooks go (from memory)";
    case Doubt::kManyPitches:
      break;
  }
  return "more than " + rounded(model::kMostPitches, 0) +
         " pitches from shaft to axle: longer than handbooks go (from memory)";
}

double wrap_of(const ChainAnswer& a, double centre) {
  const model::SprocketPair& s = a.sprockets;
  return model::wrap_angle(s.pitch, s.front_teeth, s.rear_teeth, centre) * kDegree;
}

// What is worth a second look although the measurement may be right.
std::vector<std::string> remarks(const ChainAnswer& a) {
  std::vector<std::string> list;
  if (a.measured.links && *a.measured.links % 2 != 0) {
    list.emplace_back(
        "an odd count needs a half link, which is rare and weak: count again, and count both inner "
        "and outer links");
  }
  const auto centre = a.reading.centre_distance;
  if (centre && wrap_of(a, *centre) < kLeastWrap) {
    list.emplace_back(
        "the chain wraps less than 120 deg round the small sprocket (Mott, Machine Elements)");
  }
  return list;
}

void write_measured(JsonWriter& json, const Measured& m) {
  json.key("measured");
  json.begin_object(Layout::kLine);
  if (m.loop) {
    json.member("loop_mm", *m.loop * kMillimetre);
    json.member("around", name_of(m.around));
  } else if (m.centre) {
    json.member("centre_distance_mm", *m.centre * kMillimetre);
  } else {
    json.member("links", m.links);
  }
  json.end_object();
}

std::string measured_text(const Measured& m) {
  if (m.loop) {
    const std::string where = m.around == Around::kTips    ? "over the tips of the teeth"
                              : m.around == Around::kRoots ? "round the bottoms of the tooth gaps"
                                                           : "along the pins of the chain";
    return "loop of " + millimetres(*m.loop) + ' ' + where;
  }
  if (m.centre) return "shaft to axle " + millimetres(*m.centre);
  return "chain of " + std::to_string(*m.links) + " links";
}

std::string signed_millimetres(double length) {
  return (length < 0 ? "" : "+") + rounded(length * kMillimetre, 1);
}

void write_nearby(std::ostream& out, const ChainAnswer& a, Colour colour) {
  if (a.reading.nearby.empty()) return;
  std::vector<std::vector<std::string>> rows;
  for (const ChainFit& fit : a.reading.nearby) {
    rows.push_back({std::to_string(fit.links),
                    rounded(fit.links * a.sprockets.pitch * kMillimetre, 0),
                    rounded(fit.centre_distance * kMillimetre, 1),
                    a.reading.centre_distance
                        ? signed_millimetres(fit.centre_distance - *a.reading.centre_distance)
                        : "-",
                    rounded(wrap_of(a, fit.centre_distance), 0)});
  }
  out << "\nEven counts near it, pulled straight (slack needs the axle a little farther forward):\n"
      << table({{"links"},
                {"length", true, "mm"},
                {"shaft to axle", true, "mm"},
                {"axle moves", true, "mm"},
                {"wrap", true, "deg"}},
               rows, "  ", colour);
}

}  // namespace

std::string_view name_of(Around around) {
  switch (around) {
    case Around::kTips:
      return "tips";
    case Around::kRoots:
      return "roots";
    case Around::kPitchLine:
      break;
  }
  return "pitch-line";
}

void write_chain_answer_json(std::ostream& out, const ChainAnswer& a) {
  const model::ChainReading& r = a.reading;
  JsonWriter json(out);
  json.begin_object();
  json.key("size");
  if (a.size.empty()) {
    json.null();
  } else {
    json.value(a.size);
  }
  json.member("pitch_mm", a.sprockets.pitch * kMillimetre);
  json.member("front_teeth", a.sprockets.front_teeth);
  json.member("rear_teeth", a.sprockets.rear_teeth);
  write_measured(json, a.measured);
  json.member("plausible", r.doubts.empty());
  json.member("links", r.links);
  json.member("fewest_links", r.fewest_links);
  json.member("most_links", r.most_links);
  json.member("centre_distance_mm",
              r.centre_distance ? *r.centre_distance * kMillimetre : std::nan(""));
  json.member("wrap_deg", r.centre_distance ? wrap_of(a, *r.centre_distance) : std::nan(""));
  json.key("nearby");
  json.begin_list();
  for (const ChainFit& fit : r.nearby) {
    json.begin_object(Layout::kLine);
    json.member("links", fit.links);
    json.member("centre_distance_mm", fit.centre_distance * kMillimetre);
    json.member("wrap_deg", wrap_of(a, fit.centre_distance));
    json.end_object();
  }
  json.end_list();
  json.key("remarks");
  json.begin_list();
  for (const Doubt doubt : r.doubts) json.value(sentence(doubt, a));
  for (const std::string& remark : remarks(a)) json.value(remark);
  json.end_list();
  json.end_object();
  json.end_line();
}

void write_chain_answer_text(std::ostream& out, const ChainAnswer& a, Colour colour) {
  const model::ChainReading& r = a.reading;
  out << (a.size.empty() ? "Chain of pitch " + millimetres(a.sprockets.pitch) : "Chain " + a.size)
      << ", " << a.sprockets.front_teeth << " teeth front, " << a.sprockets.rear_teeth << " rear, "
      << measured_text(a.measured) << '\n';
  for (const Doubt doubt : r.doubts) {
    out << wrapped("NOT PLAUSIBLE: " + sentence(doubt, a) + ". Measure again.", "  ");
  }
  if (r.doubts.empty()) out << "  plausible\n";
  if (!std::isnan(r.links)) {
    out << "  links          " << rounded(r.links, 2);
    if (r.fewest_links != r.most_links) {
      out << " (" << rounded(r.fewest_links, 1) << " to " << rounded(r.most_links, 1)
          << " by what the measurement may be off)";
    }
    out << '\n';
  }
  if (r.centre_distance) {
    out << "  shaft to axle  " << millimetres(*r.centre_distance) << ", wrap on the small sprocket "
        << rounded(wrap_of(a, *r.centre_distance), 0) << " deg\n";
  }
  for (const std::string& remark : remarks(a)) out << wrapped("caution: " + remark, "  ");
  write_nearby(out, a, colour);
  out << "\nMeasure with the power disconnected; chain and sprockets pinch.\n";
}

}  // namespace sprocketry::report
