#include "guard.hpp"

#include <exception>
#include <string>

#include "commands.hpp"
#include "complain.hpp"

namespace sprocketry::cli {
namespace {

int defect(const char* what) {
  complain(std::string(what) +
           "\nThis is a defect in the program; please report it with the files that you used.");
  return kDefect;
}

}  // namespace

int guarded(const std::function<int()>& work) try {
  return work();
} catch (const std::exception& error) {
  return defect(error.what());
} catch (...) {
  return defect("something unknown went wrong");
}

}  // namespace sprocketry::cli
