#pragma once

#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <string>

#include <gtest/gtest.h>

#include "base/file.h"

namespace loftbeat::app {

// The program run by a shell, as a user would.
struct Ending {
  int code = -1;
  std::string output;
  std::string errors;
};

// Tests run beside each other: every process has files of its own.
inline std::string scratch(const std::string& name) {
  return ::testing::TempDir() + "loftbeat-" + std::to_string(::getpid()) + "-" + name;
}

inline Ending run(const std::string& arguments, const std::string& environment = "") {
  const std::string out = scratch("out");
  const std::string err = scratch("err");
  const std::string command =
      environment + " '" LOFTBEAT_PROGRAM "' " + arguments + " >'" + out + "' 2>'" + err + "'";
  Ending ending;
  const int status = std::system(command.c_str());
  ending.code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  ending.output = read_file(out).value();
  ending.errors = read_file(err).value();
  return ending;
}

}  // namespace loftbeat::app
