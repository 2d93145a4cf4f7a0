#include "window/desk/long_work.h"

#include <utility>

namespace loftbeat::window {

LongWork::~LongWork() {
  if (state_) state_->cancelled_.store(true);
  pool_.clear();
  pool_.waitForDone();
}

void LongWork::cancel() {
  if (!state_) return;
  state_->cancelled_.store(true);
  state_.reset();
  emit ended();
}

void LongWork::start(std::function<Finish(WorkState&)> work) {
  if (state_) state_->cancelled_.store(true);
  pool_.clear();  // what had not begun
  auto state = std::make_shared<WorkState>();
  state_ = state;
  emit began();
  pool_.start([this, state, work = std::move(work)] {
    if (state->cancelled()) return;
    Finish finish = work(*state);
    QMetaObject::invokeMethod(
        this,
        [this, state, finish = std::move(finish)] {
          if (state != state_) return;
          state_.reset();
          if (finish) finish();
          emit ended();
        },
        Qt::QueuedConnection);
  });
}

}  // namespace loftbeat::window
