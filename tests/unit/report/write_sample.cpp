// Writes the sample review to standard output, to look at it and to make the example file again:
//   report_sample json > src/report/loftbeat-review.example.json
//   report_sample page [BARS VERSES] > page.html
//   report_sample text [WIDTH] [colour]

#include <cstdlib>
#include <iostream>
#include <string>

#include "report/report.h"
#include "sample_review.h"

using namespace loftbeat;

int main(int argc, char** argv) {
  const std::string what = argc > 1 ? argv[1] : "text";
  const auto number = [&](int i, int otherwise) {
    return argc > i ? std::atoi(argv[i]) : otherwise;
  };
  if (what == "json") std::cout << report::format_json(testing::sample_review());
  if (what == "page") {
    std::cout << report::format_page(testing::sample_review({number(2, 16), number(3, 4)}));
  }
  if (what == "text") {
    const auto colour =
        argc > 3 ? report::TerminalStyle::Colour::ansi : report::TerminalStyle::Colour::none;
    std::cout << report::terminal_text(testing::sample_review({16, 4}), {number(2, 80), colour});
  }
  return 0;
}
