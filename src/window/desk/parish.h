#pragma once

#include <string>
#include <vector>

namespace loftbeat::window {

// One file of a parish, as one chooses from it.
struct ParishFile {
  std::string path;
  std::string
      name;  // what a person calls it: title of the hymn, name of the organ; else the file's
};

// What lies in a parish's folder (not below it): the hymns that are planned, scores without a plan,
// instruments, churches, services. In order of names. What cannot be read is listed by its file
// name: opening it tells why.
struct Parish {
  std::string folder;
  std::vector<ParishFile> plans;
  std::vector<ParishFile> scores;  // those that no plan names
  std::vector<ParishFile> organs;
  std::vector<ParishFile> churches;
  std::vector<ParishFile> services;

  // Where practices are kept.
  [[nodiscard]] std::string practices() const { return folder + "/sessions"; }
};

// Reads the folder; some milliseconds. A folder that is not there has nothing in it.
[[nodiscard]] Parish find_parish(const std::string& folder);

}  // namespace loftbeat::window
