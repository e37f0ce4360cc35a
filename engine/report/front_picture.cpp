#include "report/front_picture.hpp"

#include <algorithm>
#include <cmath>

#include "report/display.hpp"
#include "report/text.hpp"

namespace sprocketry::report {
namespace {

constexpr int kClasses = 5;
constexpr int kLeft = 70, kRight = 690, kTop = 30, kBottom = 350;  // of the drawing's plane

// One objective of every member, as it is shown.
struct Series {
  Shown as;
  std::vector<double> values;
  double low = 0;
  double high = 0;

  Series(const Result& r, std::size_t objective)
      : as(shown(*r.setup.objectives[objective], r.job.requirement)) {
    const bool lower = r.setup.objectives[objective]->better == spec::Better::kLower;
    for (const auto& member : r.front.objectives) {
      values.push_back((lower ? 1.0 : -1.0) * member[objective] * as.factor);
    }
    low = *std::ranges::min_element(values);
    high = *std::ranges::max_element(values);
  }

  // 0 at the lowest value to 1 at the highest; 0.5 when all are the same.
  [[nodiscard]] double share(double value) const {
    return high > low ? (value - low) / (high - low) : 0.5;
  }
  // The class of a value, and the value at which a class begins.
  [[nodiscard]] int class_of(double value) const {
    return std::clamp(static_cast<int>(share(value) * kClasses), 0, kClasses - 1);
  }
  [[nodiscard]] double class_begin(int number) const {
    return low + (high - low) * number / kClasses;
  }
  [[nodiscard]] std::string text(double value) const { return rounded(value, as.decimals); }
  [[nodiscard]] std::string name() const {
    return escaped(as.label + (as.unit.empty() ? "" : " [" + as.unit + "]"));
  }
};

std::string at_x(double share) { return rounded(kLeft + (kRight - kLeft) * share, 1); }
std::string at_y(double share) { return rounded(kBottom + (kTop - kBottom) * share, 1); }

void write_axes(std::ostream& out, const Series& x, const Series& y) {
  constexpr int kSteps = 4;
  out << "<path d=\"M60 20V360H700\"/>\n";
  for (int i = 0; i <= kSteps; ++i) {
    const double share = static_cast<double>(i) / kSteps;
    const auto tick = [&](const Series& s) { return s.text(s.low + (s.high - s.low) * share); };
    // Equal ends would give five ticks of one value.
    if (x.high > x.low || i == kSteps / 2) {
      out << "<text text-anchor=\"middle\" x=\"" << at_x(share) << "\" y=\"378\">" << tick(x)
          << "</text>";
    }
    if (y.high > y.low || i == kSteps / 2) {
      out << "<text text-anchor=\"end\" x=\"54\" y=\"" << at_y(share) << "\">" << tick(y)
          << "</text>\n";
    }
  }
  out << "<text x=\"380\" y=\"402\" text-anchor=\"middle\">" << x.name()
      << "</text><text x=\"8\" y=\"14\">" << y.name() << "</text>\n";
}

void write_dot(std::ostream& out, const std::string& x, const std::string& y, int number) {
  out << "<circle class=\"dot" << number << "\" cx=\"" << x << "\" cy=\"" << y << "\" r=\""
      << 3 + number << '"';
}

void write_legend(std::ostream& out, const Series& third) {
  out << "<p>Colour and size: " << third.name() << "</p>\n<ul class=\"legend\">";
  for (int i = 0; i < kClasses; ++i) {
    out << "<li><svg width=\"16\" height=\"16\" aria-hidden=\"true\">";
    write_dot(out, "8", "8", i);
    out << "/></svg> " << third.text(third.class_begin(i)) << " to "
        << third.text(third.class_begin(i + 1)) << "</li>";
  }
  out << "</ul>\n";
}

}  // namespace

std::string escaped(std::string_view text) {
  std::string result;
  for (const char c : text) {
    switch (c) {
      case '&':
        result += "&amp;";
        break;
      case '<':
        result += "&lt;";
        break;
      case '>':
        result += "&gt;";
        break;
      case '"':
        result += "&quot;";
        break;
      default:
        result += c;
    }
  }
  return result;
}

void write_front_picture(std::ostream& out, const Result& r) {
  const Series x(r, 0);
  const Series y(r, 1);
  std::vector<Series> third;
  if (r.setup.objectives.size() > 2) third.emplace_back(r, 2);
  out << "<svg viewBox=\"0 0 720 410\" role=\"img\" aria-label=\"" << y.name() << " over "
      << x.name() << ", " << x.values.size() << " dots\">\n";
  write_axes(out, x, y);
  for (std::size_t i = 0; i < x.values.size(); ++i) {
    const int number = third.empty() ? 1 : third.front().class_of(third.front().values[i]);
    write_dot(out, at_x(x.share(x.values[i])), at_y(y.share(y.values[i])), number);
    out << "><title>" << i + 1 << "</title></circle>\n";
  }
  out << "</svg>\n";
  if (!third.empty() && third.front().high > third.front().low) write_legend(out, third.front());
}

}  // namespace sprocketry::report
