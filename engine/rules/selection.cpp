#include "rules/selection.hpp"

namespace sprocketry::rules {

std::string design_id(const Selection& s) {
  return s.motor->id + '/' + s.controller->id + '/' + s.pack->id + '/' +
         (s.charger ? s.charger->id : kNoCharger) + '/' + s.chain->id + '/' + s.front->id + ':' +
         std::to_string(s.front_teeth) + '/' + s.rear->id + ':' + std::to_string(s.rear_teeth);
}

}  // namespace sprocketry::rules
