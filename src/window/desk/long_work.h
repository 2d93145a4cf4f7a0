#pragma once

#include <atomic>
#include <functional>
#include <memory>

#include <QObject>
#include <QThreadPool>

namespace loftbeat::window {

// What a long piece of work looks at and tells while it runs in its own thread.
class WorkState {
 public:
  // 0 to 1.
  void tell(double done) { done_.store(done, std::memory_order_relaxed); }
  [[nodiscard]] bool cancelled() const { return cancelled_.load(std::memory_order_relaxed); }

 private:
  friend class LongWork;
  std::atomic<double> done_{0};
  std::atomic<bool> cancelled_{false};
};

// Runs what takes more than a tenth of a second beside the window's thread. A new piece of work
// takes the place of the one before, whose result is thrown away. The window's thread.
class LongWork : public QObject {
  Q_OBJECT

 public:
  explicit LongWork(QObject* parent = nullptr) : QObject(parent) { pool_.setMaxThreadCount(1); }
  ~LongWork() override;

  // `work` runs in another thread and returns what is to be done with its result, which then runs
  // in the window's thread unless it was cancelled meanwhile. What `work` uses, it owns.
  using Finish = std::function<void()>;
  void start(std::function<Finish(WorkState&)> work);
  void cancel();
  [[nodiscard]] bool runs() const { return state_ != nullptr; }
  [[nodiscard]] double done() const {
    return state_ ? state_->done_.load(std::memory_order_relaxed) : 1;
  }

 signals:
  void began();
  void ended();  // finished or cancelled

 private:
  std::shared_ptr<WorkState> state_;  // of the newest; null: nothing runs
  QThreadPool pool_;
};

}  // namespace loftbeat::window
