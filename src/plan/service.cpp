#include "plan/service.h"

#include <charconv>
#include <chrono>
#include <utility>

#include "base/file.h"
#include "base/toml_document.h"

namespace loftbeat::plan {
namespace {

constexpr std::size_t kMostHymns = 60;
constexpr std::size_t kMostNumberBytes = 20;

std::optional<int> digits(std::string_view text) {
  int value = 0;
  for (const char c : text) {
    if (c < '0' || c > '9') return std::nullopt;
    value = value * 10 + (c - '0');
  }
  return value;
}

bool is_day(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return false;
  const auto year = digits(text.substr(0, 4));
  const auto month = digits(text.substr(5, 2));
  const auto day = digits(text.substr(8, 2));
  if (!year || !month || !day) return false;
  return std::chrono::year_month_day(std::chrono::year(*year),
                                     std::chrono::month(static_cast<unsigned>(*month)),
                                     std::chrono::day(static_cast<unsigned>(*day)))
      .ok();
}

std::string number_at(const TomlItem& item) {
  if (item.is_integer()) return std::to_string(item.integer({0, 99999}).value_or(0));
  const std::string text = item.text().value_or("");
  if (text.size() > kMostNumberBytes) item.refuse("at most 20 letters and digits");
  return text;
}

ServiceHymn hymn_from(const TomlTable& at, const std::string& service_file) {
  ServiceHymn hymn;
  const TomlItem plan = at.needed("plan");
  const std::string name = plan.text().value_or("");
  if (plan.is_text() && name.empty()) plan.refuse("the file of a plan");
  hymn.plan_path = path_beside(name, service_file);
  hymn.line = plan.line();
  hymn.number = number_at(at["number"]);
  return hymn;
}

Result<Service> service_from(Result<TomlDocument> document, const std::string& path) {
  if (!document) return document.error();
  const TomlTable root = document->root();
  Service service;
  service.file = path;
  const TomlItem title = root.needed("title");
  service.title = title.text().value_or("");
  if (title.is_text() && service.title.empty()) title.refuse("the name of the service");
  const TomlItem date = root["date"];
  service.date = date.text().value_or("");
  if (date.is_text() && !is_day(service.date))
    date.refuse("a day as year, month and day, such as \"2026-11-29\"");
  const TomlItem hymns = root.needed("hymn");
  const std::vector<TomlTable> tables = hymns.tables();
  if (hymns.present() && tables.empty()) hymns.refuse("one [[hymn]] or more");
  if (tables.size() > kMostHymns) {
    hymns.refuse("at most 60 hymns");
  } else {
    for (const TomlTable& at : tables) service.hymns.push_back(hymn_from(at, path));
  }
  if (Status status = document->finish(); !status) return status.error();
  return service;
}

}  // namespace

Result<Service> read_service(const std::string& path) {
  return service_from(TomlDocument::read(path), path);
}

Result<Service> parse_service(std::string_view text, const std::string& path) {
  return service_from(TomlDocument::parse(text, path), path);
}

}  // namespace loftbeat::plan
