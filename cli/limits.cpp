#include "limits.hpp"

#include "complain.hpp"
#include "units/units.hpp"

namespace sprocketry::cli {

std::optional<double> read_near(const std::optional<std::string>& text) {
  constexpr double kMost = 0.5;
  if (!text) return 0.0;
  const auto share = units::parse(*text, units::Dimension::kRatio);
  if (!share) {
    complain("--near: " + share.error().message + "; " + share.error().hint);
    return std::nullopt;
  }
  if (share->value > 0 && share->value <= kMost) return share->value;
  complain("--near: " + *text + " is not above 0 % and at most 50 %");
  return std::nullopt;
}

bool read_limit(const std::optional<std::string>& text,
                std::optional<std::chrono::duration<double>>& limit) {
  if (!text) return true;
  const auto time = units::parse(*text, units::Dimension::kTime);
  if (!time) {
    complain("--time-limit: " + time.error().message + "; " + time.error().hint);
    return false;
  }
  if (!(time->value > 0)) {
    complain("--time-limit: " + *text + " leaves no time; give for example '30 s'");
    return false;
  }
  limit = std::chrono::duration<double>(time->value);
  return true;
}

}  // namespace sprocketry::cli
