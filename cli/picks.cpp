#include "picks.hpp"

#include "complain.hpp"

namespace sprocketry::cli {

void add_picks(CLI::App& command, std::vector<std::string>& picks) {
  command
      .add_option("--pick", picks,
                  "SLOT=ID with SLOT one of motor, controller, pack, charger, chain,\n"
                  "front_sprocket, front_teeth, rear_sprocket, rear_teeth; or the\n"
                  "whole id of a design, as `search` prints it; may be repeated")
      ->take_all()
      ->expected(1)
      ->type_name("PICK");
}

std::optional<search::Picked> picked(const spec::Job& job, const search::Setup& setup,
                                     const std::vector<std::string>& picks, const char* option) {
  auto result = search::pick(job, setup, picks, option);
  if (result) return std::move(*result);
  complain(result.error());
  return std::nullopt;
}

}  // namespace sprocketry::cli
