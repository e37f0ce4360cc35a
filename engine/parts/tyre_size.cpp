#include "parts/tyre_size.hpp"

#include <charconv>
#include <optional>
#include <regex>

namespace sprocketry::parts {
namespace {

constexpr double kInch = 0.0254;
constexpr double kMillimetre = 1e-3;

double number(const std::string& text) {
  double value = 0;
  std::from_chars(text.data(), text.data() + text.size(), value);
  return value;
}

// "3.00", "2 3/4".
double inches(const std::string& whole, const std::string& numerator,
              const std::string& denominator) {
  return number(whole) + (denominator.empty() ? 0.0 : number(numerator) / number(denominator));
}

tl::expected<TyreSize, std::string> refuse(std::string_view why) {
  return tl::unexpected(std::string(why) +
                        "; write the marking as on the sidewall, for example 3.00-18 or 90/90-18, "
                        "or measure the roll-out");
}

}  // namespace

tl::expected<TyreSize, std::string> parse_tyre_size(std::string_view marking) {
  constexpr std::size_t kLongest = 40;
  if (marking.size() > kLongest) return refuse("a tyre size is not that long");
  static const std::regex kForm(
      R"((\d+(?:\.\d+)?)(?: (\d)/(\d))?(?:/(\d+))? ?-? ?(?:Z?R|B)? ?(\d+)(?: ?M/C)?( .*)?)");
  std::match_results<std::string_view::const_iterator> m;
  if (!std::regex_match(marking.begin(), marking.end(), m, kForm)) {
    return refuse("this is no tyre size");
  }
  const double width = inches(m[1].str(), m[2].str(), m[3].str());
  const bool metric = width >= 20;
  TyreSize size;
  size.width = width * (metric ? kMillimetre : kInch);
  size.aspect_ratio = m[4].matched ? number(m[4].str()) / 100.0 : 1.0;
  size.rim_diameter = number(m[5].str()) * kInch;
  if (metric && !m[4].matched) return refuse("a metric tyre size states its aspect ratio");
  if (size.width < (metric ? 0.040 : kInch) || size.width > (metric ? 0.400 : 10 * kInch)) {
    return refuse("the width is outside 40 to 400 mm (1 to 10 in)");
  }
  if (size.aspect_ratio < 0.2 || size.aspect_ratio > 1.1) {
    return refuse("the aspect ratio is outside 20 to 110 %");
  }
  if (size.rim_diameter < 4 * kInch || size.rim_diameter > 30 * kInch) {
    return refuse("the rim code is outside 4 to 30");
  }
  return size;
}

}  // namespace sprocketry::parts
