#include "model/chain_order.hpp"

#include <algorithm>

namespace sprocketry::model {

ChainOrder chain_order(int links, int box_links) {
  ChainOrder order;
  order.links = links;
  order.half_links = links % 2;
  order.rollers = links - order.half_links;
  if (box_links > 0) {
    order.boxes = (links + box_links - 1) / box_links;
    order.offcut = order.boxes * box_links - links;
  }
  order.connecting_links = std::max(order.boxes, 1);
  return order;
}

}  // namespace sprocketry::model
