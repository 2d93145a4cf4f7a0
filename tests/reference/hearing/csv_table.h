#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <vector>

// A table of published figures beside the test. Lines that begin with # say where they come from;
// the first other line names the columns; cells with commas are quoted; blank = not given.
class CsvTable {
 public:
  // `path` from the top of the source tree. An unreadable file gives a table without rows.
  static CsvTable read(const std::string& path);

  [[nodiscard]] std::size_t rows() const { return cells_.size(); }
  [[nodiscard]] bool given(std::size_t row, const std::string& column) const;
  [[nodiscard]] const std::string& text(std::size_t row, const std::string& column) const;
  // Requires given().
  [[nodiscard]] double number(std::size_t row, const std::string& column) const;
  // `count` numbers from `column` to the right.
  [[nodiscard]] std::vector<double> numbers(std::size_t row, const std::string& column,
                                            std::size_t count) const;
  // The first row with this text in its first column; rows() if there is none.
  [[nodiscard]] std::size_t find(const std::string& first) const;

 private:
  std::map<std::string, std::size_t> columns_;
  std::vector<std::vector<std::string>> cells_;
};
