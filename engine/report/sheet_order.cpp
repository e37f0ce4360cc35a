#include "report/sheet.hpp"

namespace sprocketry::report {
namespace {

std::string money(parts::Money amount) {
  return rounded(static_cast<double>(amount) / static_cast<double>(parts::kMoneyUnit), 2);
}

}  // namespace

Section order_section(const search::Sheet& sheet, const spec::Job& job) {
  Section s;
  s.title = "Order list";
  const std::string& currency = job.requirement.currency;
  s.columns = {{"item", false}, {"part", false},          {"quantity"},
               {"", false},     {"each", true, currency}, {"sum", true, currency}};
  for (const search::OrderLine& line : sheet.order) {
    s.rows.push_back({line.item, line.id, std::to_string(line.quantity), line.unit,
                      line.owned ? "owned" : money(line.each), money(line.sum)});
  }
  s.rows.push_back({"all together", "", "", "", "", money(sheet.price)});
  s.remarks = {
      "Not in the price: fuse, contactor, cable, lugs, switches and connectors unless they stand "
      "above, material for mounts and guard, delivery and duty.",
      "Compare every number on this sheet with the maker's data before you order: the sheet is "
      "only "
      "as good as the parts file."};
  return s;
}

}  // namespace sprocketry::report
