// Whatever the bytes are: one error with a sentence, or a service that keeps what service.h says.

#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "plan/service.h"

namespace loftbeat::plan {
namespace {

void check(std::string_view text) {
  const auto service = parse_service(text, "x.service.toml");
  if (!service) {
    if (service.error().message.empty() || service.error().file.empty()) std::abort();
    return;
  }
  if (service->title.empty() || service->hymns.empty() || service->hymns.size() > 60) std::abort();
  if (!service->date.empty() && service->date.size() != 10) std::abort();
  for (const ServiceHymn& hymn : service->hymns) {
    if (hymn.plan_path.empty() || hymn.number.size() > 20 || hymn.line < 1) std::abort();
  }
}

}  // namespace
}  // namespace loftbeat::plan

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  loftbeat::plan::check({reinterpret_cast<const char*>(data), size});
  return 0;
}
