#pragma once

#include <atomic>
#include <cstdint>
#include <memory>
#include <string>

#include <QObject>
#include <QTimer>

#include "base/result.h"
#include "window/desk/long_work.h"

namespace loftbeat::window {

// What of a take is to sound.
struct HearOrder {
  std::string plan_path;
  std::string take_path;
  double from_s = 0;  // in the take
  // Names with commas between; empty: as the take moves them, else as the plan draws them.
  std::string stops;
  std::string couplers;
  std::string to_path;  // .wav or .flac; empty: the sound device
};

// Sounds it, or renders it into a file; blocks, and ends when the work is cancelled. `frame` is
// where it is, counted from `from_s`; -1 while ranks are loaded. Returns a sentence for the user,
// empty if there is nothing to say. Errors say what to do in the window.
[[nodiscard]] Result<std::string> sound_take(const HearOrder& order, WorkState& state,
                                             std::atomic<std::int64_t>& frame);

// The take out of the sound device: begins softly, and is silent at once when it is stopped.
class Hearing : public QObject {
  Q_OBJECT

 public:
  explicit Hearing(QObject* parent = nullptr);
  void start(const HearOrder& order);
  void stop() { work_.cancel(); }
  [[nodiscard]] bool runs() const { return work_.runs(); }
  [[nodiscard]] LongWork& work() { return work_; }

 signals:
  void began();
  void reached(double seconds);  // in the take, some ten times a second
  void ended();
  void said(const QString& sentence);

 private:
  LongWork work_;
  QTimer timer_;
  std::shared_ptr<std::atomic<std::int64_t>> frame_;
  double from_s_ = 0;
};

}  // namespace loftbeat::window
