#include "csv_table.h"

#include <fstream>

namespace {

std::vector<std::string> split(const std::string& line) {
  std::vector<std::string> cells(1);
  bool quoted = false;
  for (const char c : line) {
    if (c == '"') {
      quoted = !quoted;
    } else if (c == ',' && !quoted) {
      cells.emplace_back();
    } else if (c != '\r') {
      cells.back() += c;
    }
  }
  return cells;
}

}  // namespace

CsvTable CsvTable::read(const std::string& path) {
  std::ifstream file(std::string(LOFTBEAT_SOURCE_DIR) + "/" + path);
  CsvTable table;
  for (std::string line; std::getline(file, line);) {
    if (line.empty() || line.front() == '#') continue;  // "# Source: ..." heads every table
    std::vector<std::string> cells = split(line);
    if (table.columns_.empty()) {
      for (std::size_t i = 0; i < cells.size(); ++i) table.columns_[cells[i]] = i;
    } else {
      cells.resize(table.columns_.size());
      table.cells_.push_back(std::move(cells));
    }
  }
  return table;
}

bool CsvTable::given(std::size_t row, const std::string& column) const {
  return !text(row, column).empty();
}

const std::string& CsvTable::text(std::size_t row, const std::string& column) const {
  return cells_.at(row).at(columns_.at(column));
}

double CsvTable::number(std::size_t row, const std::string& column) const {
  return std::stod(text(row, column));
}

std::vector<double> CsvTable::numbers(std::size_t row, const std::string& column,
                                      std::size_t count) const {
  std::vector<double> values;
  const std::size_t first = columns_.at(column);
  for (std::size_t i = 0; i < count; ++i) values.push_back(std::stod(cells_.at(row).at(first + i)));
  return values;
}

std::size_t CsvTable::find(const std::string& first) const {
  std::size_t row = 0;
  while (row < cells_.size() && cells_[row].front() != first) ++row;
  return row;
}
