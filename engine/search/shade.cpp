#include "search/shade.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace sprocketry::search {

double least_share(const double* rows, const double* values, std::size_t objectives) {
  constexpr double kNever = std::numeric_limits<double>::infinity();
  double least = kNever;
  for (std::size_t lane = 0; lane < kLanes; ++lane) {
    double most = -kNever;
    for (std::size_t k = 0; k < objectives; ++k) {
      const double above = rows[k * kLanes + lane] - values[k];
      const double size = std::abs(values[k]);
      most = std::max(most, size > 0 ? above / size : (above > 0 ? kNever : -kNever));
    }
    least = std::min(least, most);
  }
  return least;
}

const double* Shade::dominating(const double* values) {
  if (share_ == 0) return asked(values);
  return asked(improved(values, objectives_, share_).data());
}

const double* Shade::asked(const double* values) {
  for (std::size_t i = 0; i < count_; ++i) {
    if (!lanes::dominate(remembered_[i].data(), objectives_, values)) continue;
    if (i == 0) return remembered_[0].data();
    std::swap(remembered_[i], remembered_[i - 1]);
    return remembered_[i - 1].data();
  }
  const double* found = resting_->dominating(values);
  if (found == nullptr) found = growing_->dominating(values);
  if (found == nullptr) return nullptr;
  count_ = std::min(count_ + 1, kRemembered);
  std::move_backward(remembered_.begin(),
                     remembered_.begin() + static_cast<std::ptrdiff_t>(count_ - 1),
                     remembered_.begin() + static_cast<std::ptrdiff_t>(count_));
  std::copy_n(found, objectives_ * kLanes, remembered_.front().begin());
  return remembered_.front().data();
}

}  // namespace sprocketry::search
