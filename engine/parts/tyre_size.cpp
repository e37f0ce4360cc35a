#include "parts/tyre_size.hpp"

#include <algorithm>
#include <charconv>
#include <cstddef>
#include <iterator>
#include <optional>
#include <utility>

namespace sprocketry::parts {
namespace {

// Widths below are inches: no inch size is that wide, no metric size that narrow.
constexpr double kFirstMetricWidth = 20;

// Bytes; every real marking is shorter.
constexpr std::size_t kLongestMarking = 40;

// What may follow the rim code besides load index and speed symbol.
constexpr std::string_view kMarks[] = {"M/C", "TL", "TT", "REINF", "4PR", "6PR", "8PR"};

bool is_digit(char c) { return c >= '0' && c <= '9'; }

// Extended precision, rounded once, so that 18 in is the double of 0.4572.
double from_inches(double inches) {
  return static_cast<double>(static_cast<long double>(inches) * 25.4L / 1000.0L);
}

// Reads a marking from left to right.
class Scanner {
 public:
  explicit Scanner(std::string_view text) : rest_(text) {}

  bool skip_blanks() {
    const std::size_t count = std::min(rest_.find_first_not_of(' '), rest_.size());
    rest_.remove_prefix(count);
    return count > 0;
  }

  bool take(std::string_view text) {
    if (!rest_.starts_with(text)) return false;
    rest_.remove_prefix(text.size());
    return true;
  }

  // Digits, with one decimal point between digits when `decimal`.
  std::optional<double> number(bool decimal) {
    std::size_t end = digits(0);
    if (end == 0) return {};
    if (decimal && rest_.substr(end).starts_with('.')) {
      const std::size_t fraction = digits(end + 1);
      if (fraction == end + 1) return {};
      end = fraction;
    }
    double value = 0;
    std::from_chars(rest_.data(), rest_.data() + end, value);
    rest_.remove_prefix(end);
    return value;
  }

  std::string_view word() {
    const std::string_view word = rest_.substr(0, rest_.find(' '));
    rest_.remove_prefix(word.size());
    return word;
  }

  [[nodiscard]] bool at_end() const { return rest_.empty(); }

 private:
  [[nodiscard]] std::size_t digits(std::size_t from) const {
    std::size_t end = from;
    while (end < rest_.size() && is_digit(rest_[end])) ++end;
    return end;
  }

  std::string_view rest_;
};

// "3.00", "90", "2 3/4"; nothing when it is no number.
std::optional<double> read_width(Scanner& scanner) {
  const auto whole = scanner.number(true);
  if (!whole) return {};
  Scanner ahead = scanner;
  if (!ahead.skip_blanks()) return whole;
  const auto numerator = ahead.number(false);
  if (!numerator || !ahead.take("/")) return whole;
  const auto denominator = ahead.number(false);
  if (!denominator || *numerator >= *denominator) return {};
  scanner = ahead;
  return *whole + *numerator / *denominator;
}

// What stands between the section and the rim code: a hyphen, or letters for speed and
// construction (R radial, B bias-belted), or both. False when there is neither.
bool skip_construction(Scanner& scanner) {
  scanner.skip_blanks();
  bool found = scanner.take("-");
  scanner.skip_blanks();
  // Longer ones first, so that "ZR" is not read as something before R.
  for (const std::string_view letters :
       {"ZR", "VR", "HR", "SR", "VB", "HB", "SB", "R", "B", "S", "H", "V"}) {
    if (scanner.take(letters)) {
      found = true;
      break;
    }
  }
  scanner.skip_blanks();
  found = scanner.take("-") || found;
  scanner.skip_blanks();
  return found;
}

// Load index and speed symbol, "58W", in brackets or not.
bool is_service_description(std::string_view word) {
  if (word.size() > 2 && word.starts_with('(') && word.ends_with(')')) {
    word = word.substr(1, word.size() - 2);
  }
  const auto letter = std::ranges::find_if_not(word, is_digit);
  const auto digits = std::distance(word.begin(), letter);
  return (digits == 2 || digits == 3) && std::distance(letter, word.end()) == 1 && *letter >= 'A' &&
         *letter <= 'Z';
}

bool may_follow(std::string_view word) {
  return std::ranges::find(kMarks, word) != std::end(kMarks) || is_service_description(word);
}

tl::expected<TyreSize, std::string> refuse(std::string why) {
  return tl::unexpected(std::move(why) +
                        "; write the marking as on the sidewall, for example 3.00-18, 90/90-18 or "
                        "120/70 R17");
}

// The first word after the rim code that has no meaning there.
std::optional<std::string_view> stranger(Scanner scanner) {
  // "17M/C" is stamped without a blank.
  scanner.take("M/C");
  while (!scanner.at_end()) {
    const bool apart = scanner.skip_blanks();
    if (scanner.at_end()) break;
    const std::string_view word = scanner.word();
    if (!apart || !may_follow(word)) return word;
  }
  return {};
}

tl::expected<TyreSize, std::string> in_range(double width, std::optional<double> aspect,
                                             double rim) {
  const bool metric = width >= kFirstMetricWidth;
  if (metric && !aspect) return refuse("a tyre size in millimetres states its aspect ratio");
  if (metric ? width < 40 || width > 400 : width < 1 || width > 10) {
    return refuse("the tyre's width is outside 40 to 400 mm (1 to 10 in)");
  }
  if (aspect && (*aspect < 20 || *aspect > 110)) {
    return refuse("the tyre's aspect ratio is outside 20 to 110 %");
  }
  if (rim < 4 || rim > 30) return refuse("the tyre's rim code is outside 4 to 30");
  return TyreSize{.width = metric ? width / 1000 : from_inches(width),
                  .aspect_ratio = aspect.value_or(100) / 100,
                  .rim_diameter = from_inches(rim)};
}

}  // namespace

tl::expected<TyreSize, std::string> parse_tyre_size(std::string_view marking) {
  if (marking.size() > kLongestMarking) return refuse("a tyre size is not that long");
  Scanner scanner(marking);
  scanner.skip_blanks();
  const auto width = read_width(scanner);
  if (!width) return refuse("a tyre size begins with its width");
  std::optional<double> aspect;
  if (scanner.take("/")) {
    aspect = scanner.number(false);
    if (!aspect) return refuse("after `/` a tyre size has its aspect ratio in %");
  }
  if (!skip_construction(scanner)) {
    return refuse("between the section and the rim code of a tyre size stands `-` or `R`");
  }
  const auto rim = scanner.number(false);
  if (!rim) return refuse("a tyre size has its rim code after `-` or `R`");
  if (const auto word = stranger(scanner)) {
    return refuse("`" + std::string(*word) + "` is no part of a tyre size");
  }
  return in_range(*width, aspect, *rim);
}

}  // namespace sprocketry::parts
