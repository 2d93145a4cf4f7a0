#include "app/plain_errors.h"

#include <charconv>
#include <string_view>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "base/nearest.h"

namespace loftbeat::app {
namespace {

// "0.000000" as "0"; what is no number stays as it is.
std::string short_number(std::string_view text) {
  double value = 0;
  const auto [end, trouble] = std::from_chars(text.data(), text.data() + text.size(), value);
  const bool whole = trouble == std::errc{} && end == text.data() + text.size();
  return whole ? fmt::format("{:g}", value) : std::string(text);
}

struct Cut {
  std::string_view before;
  std::string_view after;  // empty if the sign is not there
};
Cut cut_at(std::string_view text, std::string_view sign) {
  const std::size_t at = text.find(sign);
  if (at == std::string_view::npos) return {text, {}};
  return {text.substr(0, at), text.substr(at + sign.size())};
}

std::string unknown_option(std::string_view words, const CLI::App& command) {
  // What follows an unknown option is not expected either and may be told before it.
  const std::size_t dashes = words.rfind("--", 0) == 0 ? 0 : words.find(" --");
  if (dashes != std::string_view::npos) words.remove_prefix(dashes == 0 ? 0 : dashes + 1);
  const std::string first(cut_at(words, " ").before);
  if (first.empty() || first.front() != '-')
    return fmt::format("\"{}\" is one file or word too many.", first);
  std::vector<std::string> known;
  for (const CLI::Option* option : command.get_options())
    for (const std::string& name : option->get_lnames()) known.push_back("--" + name);
  const std::string near = nearest(first, known);
  const std::string hint = near.empty() ? "" : fmt::format(" Did you mean {}?", near);
  return fmt::format("{} is no option of loftbeat {}.{}", first, command.get_name(), hint);
}

// "--swell: Value 7 not in range 0.000000 to 1.000000"
std::string out_of_range(std::string_view words) {
  const Cut option = cut_at(words, ": Value ");
  const Cut value = cut_at(option.after, " not in range ");
  const Cut range = cut_at(value.after, " to ");
  if (range.after.empty()) return std::string(words);
  return fmt::format("{} {} is not understood; expected a number from {} to {}.", option.before,
                     value.before, short_number(range.before), short_number(range.after));
}

// "Could not convert: --tempo = abc"
std::string no_number(std::string_view words) {
  const Cut option = cut_at(cut_at(words, ": ").after, " = ");
  return fmt::format("{} {} is not understood; expected a number.", option.before, option.after);
}

// "review, sound or plan"
std::string joined_by_or(const std::vector<std::string>& words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) text += i + 1 == words.size() ? " or " : ", ";
    text += words[i];
  }
  return text;
}

}  // namespace

std::string plain_words(const CLI::ParseError& error, const CLI::App& command) {
  const std::string words = error.what();
  switch (static_cast<CLI::ExitCodes>(error.get_exit_code())) {
    case CLI::ExitCodes::ExtrasError: return unknown_option(cut_at(words, ": ").after, command);
    case CLI::ExitCodes::ValidationError: return out_of_range(words);
    case CLI::ExitCodes::ConversionError: return no_number(words);
    case CLI::ExitCodes::ArgumentMismatch:
      return fmt::format("{} needs a value after it.", cut_at(words, ":").before);
    default: return words;
  }
}

std::string no_such_command(const std::string& word, const std::vector<std::string>& known) {
  const std::string hint = nearest_hint(word, known);
  return fmt::format("there is no command \"{}\"; expected {}.{}{}", word, joined_by_or(known),
                     hint.empty() ? "" : " ", hint);
}

}  // namespace loftbeat::app
