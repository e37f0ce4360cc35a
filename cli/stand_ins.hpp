#pragma once

#include <string>

#include "output.hpp"
#include "search/search.hpp"

namespace sprocketry::cli {

struct StandIns {
  std::string id;  // of the design
  std::string format;
  std::string rules;
  int threads = 0;
};

// search --stand-ins: the nearest designs without each part of one.
int write_stand_ins(Output& output, const spec::Job& job, const search::Setup& setup,
                    const search::Space& space, const StandIns& options);

}  // namespace sprocketry::cli
