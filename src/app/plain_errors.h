#pragma once

#include <string>
#include <vector>

namespace CLI {
class App;
class ParseError;
}  // namespace CLI

namespace loftbeat::app {

// What the reader of options found wrong, in words for someone who does not program: one sentence,
// with the nearest known option where one is not known. `command` is the part of the command line
// that was read, review or sound.
[[nodiscard]] std::string plain_words(const CLI::ParseError& error, const CLI::App& command);

// For a first word that is no command; `known` are all of them.
[[nodiscard]] std::string no_such_command(const std::string& word,
                                          const std::vector<std::string>& known);

}  // namespace loftbeat::app
