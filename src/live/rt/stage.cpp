#include "live/rt/stage.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <utility>

namespace loftbeat::live::rt {
namespace {

using voice::rt::Act;

std::int64_t steady_now_ns() {
  return std::chrono::duration_cast<std::chrono::nanoseconds>(
             std::chrono::steady_clock::now().time_since_epoch())
      .count();
}

std::int64_t ns_of(std::int64_t frame) {
  return std::llround(static_cast<double>(frame) * 1e9 / Stage::kSampleRate);
}

constexpr std::uint8_t kNoteOff = 0x80;
constexpr std::uint8_t kNoteOn = 0x90;

}  // namespace

Stage::Stage(StageSpec spec)
    : player_(std::move(spec.player)),
      queues_(std::move(spec.queues)),
      stamps_begin_ns_(spec.stamps_begin_ns),
      keys_(spec.keys),
      down_(kPorts),
      metronome_(std::move(spec.clicks), kSampleRate, spec.click_db),
      added_(std::move(spec.added)),
      limiter_(spec.ceiling) {}

void Stage::take_moves() {
  while (const voice::rt::Event* move = moves_.front()) {
    if (player_) static_cast<void>(player_->post(*move));
    moves_.pop();
  }
}

void Stage::release_port(std::uint8_t port, std::int64_t frame) {
  for (std::size_t channel = 0; channel < 16; ++channel) {
    std::bitset<128>& down = down_[port][channel];
    for (std::size_t key = 0; key < 128 && down.any(); ++key) {
      if (!down[key]) continue;
      down.reset(key);
      const std::int8_t division = keys_.division[channel][key];
      if (division == KeyTable::kNone) continue;
      static_cast<void>(player_->post({frame, Act::key_up, static_cast<std::uint8_t>(division),
                                       static_cast<std::uint16_t>(key), 0}));
    }
  }
}

void Stage::take_key(const Message& message, std::int64_t frame) {
  if (message.size == 1 && message.bytes[0] == kInputGone) {
    release_port(message.port, frame);
    return;
  }
  const std::uint8_t status = message.bytes[0] & 0xF0U;
  if (message.size < 3 || (status != kNoteOn && status != kNoteOff)) return;
  const std::size_t channel = message.bytes[0] & 0x0FU;
  const std::uint8_t key = message.bytes[1];
  if (key > 127) return;
  const std::int8_t division = keys_.division[channel][key];
  if (division == KeyTable::kNone) return;
  const bool strikes = status == kNoteOn && message.bytes[2] > 0;
  // A release without its stroke would take away what another keyboard holds.
  if (down_[message.port][channel][key] == strikes) return;
  down_[message.port][channel][key] = strikes;
  static_cast<void>(player_->post(
      {frame, strikes ? Act::key_down : Act::key_up, static_cast<std::uint8_t>(division), key, 0}));
}

void Stage::take_keys(std::size_t period) {
  const std::int64_t begin = stamps_begin_ns_.load();
  for (MessageQueue* queue : queues_) {
    while (const Message* message = queue->front()) {
      if (player_) {
        const double asked = clock_.frame_at(message->at_ns + begin);
        const std::int64_t frame =
            static_cast<std::int64_t>(std::llround(asked)) + static_cast<std::int64_t>(period);
        if (frame < frame_ - voice::rt::kBlockFrames) late_.fetch_add(1, std::memory_order_relaxed);
        take_key(*message, frame);
      }
      queue->pop();
    }
  }
}

void Stage::render(float* left, float* right, std::size_t frames, std::int64_t now_ns) {
  clock_.feed(frame_, static_cast<std::int64_t>(frames), now_ns);
  const std::int64_t belongs_ns = clock_.ns_at(static_cast<double>(frame_));
  told_origin_ns_.store(belongs_ns - ns_of(frame_));
  take_moves();
  take_keys(frames);
  if (player_) {
    player_->render(left, right, frames);
  } else {
    std::fill_n(left, frames, 0.0F);
    std::fill_n(right, frames, 0.0F);
  }
  metronome_.add_to(left, right, frames, frame_);
  if (added_) added_->add_to(left, right, frames, frame_, belongs_ns);
  limiter_.process(left, right, frames);
  // A full queue means that nobody asks; nothing is owed then.
  static_cast<void>(times_.push({frame_, belongs_ns, steady_now_ns() - now_ns}));
  frame_ += static_cast<std::int64_t>(frames);
}

std::int64_t Stage::frame_at(std::int64_t steady_ns) const {
  const auto since = static_cast<double>(steady_ns - told_origin_ns_.load());
  return std::llround(since * 1e-9 * kSampleRate);
}

std::int64_t Stage::ns_at(std::int64_t frame) const {
  return told_origin_ns_.load() + ns_of(frame);
}

}  // namespace loftbeat::live::rt
