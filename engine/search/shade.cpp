#include "search/shade.hpp"

#include <algorithm>

namespace sprocketry::search {

bool Shade::dominated(const double* values) {
  if (!(share_ > 0)) return asked(values);
  return asked(improved(values, objectives_, share_).data());
}

bool Shade::asked(const double* values) {
  for (std::size_t i = 0; i < count_; ++i) {
    if (!lanes::dominate(remembered_[i].data(), objectives_, values)) continue;
    if (i > 0) std::swap(remembered_[i], remembered_[i - 1]);
    return true;
  }
  const double* found = resting_->dominating(values);
  if (found == nullptr) found = growing_->dominating(values);
  if (found == nullptr) return false;
  count_ = std::min(count_ + 1, kRemembered);
  std::move_backward(remembered_.begin(),
                     remembered_.begin() + static_cast<std::ptrdiff_t>(count_ - 1),
                     remembered_.begin() + static_cast<std::ptrdiff_t>(count_));
  std::copy_n(found, objectives_ * kLanes, remembered_.front().begin());
  return true;
}

}  // namespace sprocketry::search
