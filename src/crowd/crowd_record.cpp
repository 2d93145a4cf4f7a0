#include "crowd/crowd_record.h"

#include <fmt/format.h>

#include <charconv>
#include <optional>

#include "base/file.h"

namespace loftbeat::crowd {
namespace {

constexpr std::string_view kHead = "loftbeat people 1";
constexpr int kMostPasses = 1000;
constexpr double kLongestTakeSeconds = 1e6;
constexpr Tick kMostTicks = Tick{1} << 40;

// The whole of `text` as a number.
template <typename Number>
std::optional<Number> number(std::string_view text) {
  Number value{};
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size()) return std::nullopt;
  return value;
}

// Takes off what stands before the next `mark`; all if there is none.
std::string_view take_until(std::string_view& text, char mark) {
  const std::size_t at = text.find(mark);
  const std::string_view taken = text.substr(0, at);
  text.remove_prefix(at == std::string_view::npos ? text.size() : at + 1);
  return taken;
}

class CrowdReader {
 public:
  CrowdReader(std::string_view text, const std::string& name) : rest_(text), name_(name) {}

  Result<ReadCrowd> read() {
    CrowdRecord& record = read_.record;
    if (next_line() != kHead) return wrong("the line \"loftbeat people 1\"");
    if (!head("people", record.people, 1, 2000)) return wrong("\"people\" and 1 to 2000");
    if (!head("reluctance", record.reluctance, 0.0, 0.08))
      return wrong("\"reluctance\" and 0 to 0.08");
    if (!head("metres", record.metres, 0.0, 100.0)) return wrong("\"metres\" and 0 to 100");
    if (!head("seed", record.seed, std::uint64_t{0}, ~std::uint64_t{0}))
      return wrong("\"seed\" and a whole number");
    if (!head("beat", record.beat_ticks, Tick{1}, kTicksPerQuarter * 16))
      return wrong("\"beat\" and its ticks, 1 to 161280");
    while (!rest_.empty()) {
      add_beat();
      if (record.beats.size() > kMostCrowdBeats)
        return Error{ErrorKind::too_large,
                     fmt::format("more than {} beats; no practice is so long", kMostCrowdBeats),
                     name_, line_};
    }
    if (lost_ > 0)
      read_.notices.push_back(
          {fmt::format("{} {} not readable as a beat (pass, tick, seconds) and left out", lost_,
                       lost_ == 1 ? "line was" : "lines were"),
           name_, first_lost_});
    return read_;
  }

 private:
  std::string_view next_line() {
    ++line_;
    torn_ = rest_.find('\n') == std::string_view::npos;
    return take_until(rest_, '\n');
  }

  [[nodiscard]] Error wrong(const std::string& expected) const {
    return {ErrorKind::unreadable,
            "expected " + expected,
            name_,
            line_,
            0,
            "The file is written by listening; without it a review leaves out who led."};
  }

  template <typename Number>
  bool head(std::string_view key, Number& value, Number least, Number most) {
    std::string_view line = next_line();
    if (take_until(line, ' ') != key) return false;
    const std::optional<Number> read = number<Number>(line);
    if (!read || !(*read >= least && *read <= most)) return false;
    value = *read;
    return true;
  }

  void add_beat() {
    std::string_view line = next_line();
    const auto pass = number<int>(take_until(line, ' '));
    const auto tick = number<Tick>(take_until(line, ' '));
    const auto at = number<double>(line);
    const bool whole = pass && tick && at && !torn_ && *pass >= 1 && *pass <= kMostPasses &&
                       *tick >= 0 && *tick <= kMostTicks && *at >= 0 &&
                       *at < kLongestTakeSeconds - 1e-9;
    std::vector<CrowdBeat>& beats = read_.record.beats;
    if (!whole || (!beats.empty() && instant_from_seconds(*at) < beats.back().sung)) {
      if (lost_++ == 0) first_lost_ = line_;
      return;
    }
    beats.push_back({*pass, *tick, instant_from_seconds(*at)});
  }

  std::string_view rest_;
  const std::string& name_;
  ReadCrowd read_;
  int line_ = 0;
  bool torn_ = false;
  std::size_t lost_ = 0;
  int first_lost_ = 0;
};

}  // namespace

Result<ReadCrowd> parse_crowd(std::string_view text, const std::string& name) {
  return CrowdReader(text, name).read();
}

Result<ReadCrowd> read_crowd(const std::string& path) {
  const auto bytes = read_file(path);
  if (!bytes) return bytes.error();
  return parse_crowd(*bytes, path);
}

std::string format_crowd(const CrowdRecord& record) {
  std::string text =
      fmt::format("{}\npeople {}\nreluctance {}\nmetres {}\nseed {}\nbeat {}\n", kHead,
                  record.people, record.reluctance, record.metres, record.seed, record.beat_ticks);
  for (const CrowdBeat& beat : record.beats)
    text += fmt::format("{} {} {:.9f}\n", beat.pass, beat.tick, seconds(beat.sung));
  return text;
}

}  // namespace loftbeat::crowd
