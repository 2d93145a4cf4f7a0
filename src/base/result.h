#pragma once

#include <cassert>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace loftbeat {

// What kind of failure it was; callers ask for the kind, never for the wording.
enum class ErrorKind {
  wrong_use,   // the call or the command line makes no sense
  unreadable,  // a file cannot be opened, or its contents are not what they should be
  too_large,   // a stated limit is exceeded (file size, depth, number of notes)
  no_fit,      // well-formed input that does not belong together (a take of another tune)
  failed,      // the system refused (disk full, device gone)
};

// A failure told to the user: what was wrong, where, and what to do about it.
// `line` and `column` count from 1; 0 means that no line is known.
struct Error {
  ErrorKind kind = ErrorKind::failed;
  std::string message;    // one sentence: what was found and what was expected
  std::string file = {};  // empty if no file is concerned
  int line = 0;
  int column = 0;
  std::string hint = {};  // what to do; may be empty
};

// "hymn.musicxml:12: <duration> is 0; expected a positive number. Open ..." in one line.
[[nodiscard]] std::string to_string(const Error& error);

// Something that was put up with: the reader or analyser went on, and says so.
struct Notice {
  std::string message;
  std::string file = {};
  int line = 0;
};

[[nodiscard]] std::string to_string(const Notice& notice);

// A value or an Error. Nothing is thrown across the face of a library; what parsers of
// others throw (bad_alloc too) ends inside the reader.
template <typename T>
class [[nodiscard]] Result {
 public:
  Result(T value) : held_(std::in_place_index<0>, std::move(value)) {}
  Result(Error error) : held_(std::in_place_index<1>, std::move(error)) {}

  [[nodiscard]] bool ok() const { return held_.index() == 0; }
  explicit operator bool() const { return ok(); }

  // Requires ok().
  [[nodiscard]] const T& value() const& {
    assert(ok());
    return *std::get_if<0>(&held_);
  }
  [[nodiscard]] T& value() & {
    assert(ok());
    return *std::get_if<0>(&held_);
  }
  [[nodiscard]] T&& value() && {
    assert(ok());
    return std::move(*std::get_if<0>(&held_));
  }
  const T& operator*() const& { return value(); }
  T& operator*() & { return value(); }
  const T* operator->() const { return &value(); }
  T* operator->() { return &value(); }

  // Requires !ok().
  [[nodiscard]] const Error& error() const {
    assert(!ok());
    return *std::get_if<1>(&held_);
  }

 private:
  std::variant<T, Error> held_;
};

// Success or an Error, where there is no value to return.
class [[nodiscard]] Status {
 public:
  Status() = default;
  Status(Error error) : error_(std::move(error)) {}
  [[nodiscard]] bool ok() const { return !error_.has_value(); }
  explicit operator bool() const { return ok(); }
  // Requires !ok().
  [[nodiscard]] const Error& error() const {
    assert(!ok());
    return *error_;
  }

 private:
  std::optional<Error> error_;
};

}  // namespace loftbeat
