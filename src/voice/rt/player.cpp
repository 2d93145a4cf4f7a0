#include "voice/rt/player.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#if defined(__SSE2__)
#include <xmmintrin.h>
#endif

namespace loftbeat::voice::rt {
namespace {

constexpr int kSilencingBlocks = 15;           // 20 ms
constexpr double kVolumeDbPerSecond = 60;      // 3 dB in 50 ms
constexpr double kQuietStartDbPerSecond = 30;  // slower, so that a hand can reach the knob
// A muted tail comes back from so little by 3 dB in 50 ms: in a large church it is many times as
// strong as the straight sound, which may be all that is heard when it returns.
constexpr double kTailReturnFrom = 0.001;
constexpr double kTailReturnDbPerSecond = 60;
constexpr std::size_t kBlock = kBlockFrames;
constexpr std::size_t kRun = kBlock * kMostBlocks;

double amplitude(double db) { return std::pow(10.0, db / 20); }

// Numbers too small to matter cost a hundred times the time of others: they count as 0 here.
class NoDenormals {
 public:
#if defined(__SSE2__)
  NoDenormals() : before_(_mm_getcsr()) { _mm_setcsr(before_ | 0x8040U); }
  ~NoDenormals() { _mm_setcsr(before_); }
  NoDenormals(const NoDenormals&) = delete;
  NoDenormals& operator=(const NoDenormals&) = delete;

 private:
  unsigned before_;
#endif
};

}  // namespace

Player::Player(PlayerSpec spec)
    : pipes_(std::move(spec.pipes)),
      console_(std::move(spec.console), *pipes_),
      room_(std::move(spec.room)),
      limiter_(spec.ceiling),
      limiting_(spec.limiter == LimiterUse::on),
      direct_gain_(spec.direct_gain),
      output_gain_(spec.output_gain),
      reached_db_(-spec.quiet_start_db),
      gain_(amplitude(reached_db_) * output_gain_) {
  const std::size_t divisions = console_.spec().divisions.size();
  for (std::size_t d = 0; d < divisions; ++d) {
    const auto box = d < spec.boxes.size() ? spec.boxes[d] : std::nullopt;
    boxes_.emplace_back(box.value_or(SwellBoxSpec{}));
    enclosed_.push_back(box.has_value());
  }
  for (const TremulantSpec& tremulant : spec.tremulants) tremulants_.push_back({tremulant});
  division_frames_.resize(divisions * kRun);
  for (std::size_t d = 0; d < divisions; ++d)
    divisions_.push_back(division_frames_.data() + d * kRun);
  sway_gain_.assign(divisions, 1);
  sway_cents_.assign(divisions, 0);
  swaying_.assign(divisions, false);
  const std::size_t quantum =
      room_ ? room_->quantum() : std::max(spec.quantum / kBlock, std::size_t{1}) * kBlock;
  volumes_db_.resize(quantum / kBlock);
  dry_.resize(quantum);
  left_.resize(quantum);
  right_.resize(quantum);
  ready_ = quantum;
}

void Player::play(std::span<const Event> list, std::int64_t loop_frames) {
  list_ = list;
  next_ = 0;
  // A loop is a whole number of blocks, so that every round falls alike.
  loop_frames_ = (loop_frames + kBlockFrames - 1) / kBlockFrames * kBlockFrames;
  list_begin_ = now_;
}

void Player::carry_out(const Event& event) {
  switch (event.act) {
    case Act::key_down: console_.key_down(event.division, event.index); break;
    case Act::key_up: console_.key_up(event.division, event.index); break;
    case Act::draw_stop: console_.draw_stop(event.index); break;
    case Act::push_in_stop: console_.push_in_stop(event.index); break;
    case Act::draw_coupler: console_.draw_coupler(event.index); break;
    case Act::push_in_coupler: console_.push_in_coupler(event.index); break;
    case Act::swell:
      if (event.division < boxes_.size())
        boxes_[event.division].move_to(static_cast<double>(event.value));
      break;
    case Act::tremulant_on:
    case Act::tremulant_off:
      if (event.index < tremulants_.size())
        tremulants_[event.index].on = event.act == Act::tremulant_on;
      break;
    case Act::release_keys: console_.release_keys(); break;
    case Act::clear_stops:
      console_.clear_stops();
      for (Sway& tremulant : tremulants_) tremulant.on = false;
      break;
    case Act::silence_everything: silencing_blocks_ = kSilencingBlocks; break;
    case Act::volume:
      if (std::isfinite(event.value))
        volume_db_ = std::clamp(static_cast<double>(event.value), -80.0, 40.0);
      break;
  }
}

void Player::restart_loop() {
  if (loop_frames_ <= 0 || now_ < list_begin_ + loop_frames_) return;
  list_begin_ += loop_frames_;
  next_ = 0;
  console_.release_keys();
}

// All events whose frame lies before the end of the block that begins now.
void Player::carry_out_due() {
  const std::int64_t end = now_ + kBlockFrames;
  for (const Event* event = queue_.front(); event != nullptr && silencing_blocks_ == 0;
       event = queue_.front()) {
    if (event->frame >= end) break;
    carry_out(*event);
    queue_.pop();
  }
  restart_loop();
  while (silencing_blocks_ == 0 && next_ < list_.size() && list_begin_ + list_[next_].frame < end)
    carry_out(list_[next_++]);
}

// Tremulants: pitch and level of their divisions for this block.
void Player::sway() {
  std::fill(sway_cents_.begin(), sway_cents_.end(), 0.0);
  for (Sway& tremulant : tremulants_) {
    const auto division = static_cast<std::size_t>(tremulant.spec.division);
    if (!tremulant.on || division >= sway_cents_.size()) continue;
    tremulant.phase += tremulant.spec.rate_hz * kBlockFrames / kSampleRate;
    tremulant.phase -= std::floor(tremulant.phase);
    sway_cents_[division] +=
        tremulant.spec.depth_cents * std::sin(2 * std::numbers::pi * tremulant.phase);
  }
}

namespace {

void apply_gain(float* samples, double from, double to) {
  if (from == 1 && to == 1) return;
  const double step = (to - from) / kBlockFrames;
  double gain = from;
  for (std::size_t i = 0; i < kBlock; ++i) {
    gain += step;
    samples[i] = static_cast<float>(static_cast<double>(samples[i]) * gain);
  }
}

}  // namespace

void Player::bend_divisions() {
  for (std::size_t d = 0; d < divisions_.size(); ++d) {
    const bool swaying = sway_cents_[d] != 0;
    if (swaying || swaying_[d]) pipes_->bend(static_cast<int>(d), sway_cents_[d]);
    swaying_[d] = swaying;
  }
}

// The level follows the pitch: with more wind both rise.
double Player::sway_amplitude(std::size_t division) const {
  if (!swaying_[division]) return 1;
  double depth = 0;
  for (const Sway& tremulant : tremulants_)
    if (tremulant.on && static_cast<std::size_t>(tremulant.spec.division) == division)
      depth += tremulant.spec.depth_cents;
  return depth > 0 ? amplitude(kTremulantDb * sway_cents_[division] / depth) : 1;
}

// For how many blocks from now on the pipes can be rendered at once: at least one, since what is
// due has been carried out.
std::size_t Player::blocks_till_something_happens() const {
  const auto sways = [](const Sway& tremulant) { return tremulant.on; };
  if (silencing_blocks_ > 0 || std::any_of(tremulants_.begin(), tremulants_.end(), sways)) return 1;
  std::int64_t frame = now_ + static_cast<std::int64_t>(kRun);
  if (const Event* event = queue_.front(); event != nullptr) frame = std::min(frame, event->frame);
  if (next_ < list_.size()) frame = std::min(frame, list_begin_ + list_[next_].frame);
  if (loop_frames_ > 0) frame = std::min(frame, list_begin_ + loop_frames_);
  return static_cast<std::size_t>(std::max<std::int64_t>(1, (frame - now_) / kBlockFrames));
}

void Player::render_division(std::size_t division, float* out, std::size_t blocks) {
  for (std::size_t block = 0; block < blocks; ++block) {
    float* samples = divisions_[division] + block * kBlock;
    if (enclosed_[division]) boxes_[division].process(samples);
    const double gain = sway_amplitude(division);
    apply_gain(samples, sway_gain_[division], gain);
    sway_gain_[division] = gain;
    for (std::size_t i = 0; i < kBlock; ++i) out[block * kBlock + i] += samples[i];
  }
}

void Player::render_run(float* out, std::size_t blocks) {
  for (float* division : divisions_) std::fill_n(division, blocks * kBlock, 0.0F);
  pipes_->render(divisions_, static_cast<int>(blocks));
  std::fill_n(out, blocks * kBlock, 0.0F);
  for (std::size_t d = 0; d < divisions_.size(); ++d) render_division(d, out, blocks);
  if (silencing_blocks_ > 0) fade_towards_silence(out);
  now_ += static_cast<std::int64_t>(blocks * kBlock);
}

// "Silence everything": 20 ms of fading, then the pipes are cut off where nobody hears it. The
// room's tail goes with them and stays away until it has died; what is played meanwhile is heard
// without the room.
void Player::fade_towards_silence(float* out) {
  const double from = static_cast<double>(silencing_blocks_) / kSilencingBlocks;
  --silencing_blocks_;
  const double to = static_cast<double>(silencing_blocks_) / kSilencingBlocks;
  apply_gain(out, from, to);
  if (room_) tail_muted_until_ = now_ + static_cast<std::int64_t>(room_->tail_frames());
  if (silencing_blocks_ > 0) return;
  console_.release_keys();
  pipes_->cut_off();
}

void Player::add_room() {
  room_->process(dry_.data(), left_.data(), right_.data());
  constexpr double kMutingStep = 1.0 / (kSilencingBlocks * kBlockFrames);
  const bool muted = now_ < tail_muted_until_;
  const double growth = amplitude(kTailReturnDbPerSecond / kSampleRate);
  for (std::size_t i = 0; i < dry_.size(); ++i) {
    tail_gain_ = muted ? std::max(0.0, tail_gain_ - kMutingStep)
                       : std::min(1.0, std::max(tail_gain_, kTailReturnFrom) * growth);
    const double direct = direct_gain_ * static_cast<double>(dry_[i]);
    left_[i] = static_cast<float>(direct + tail_gain_ * static_cast<double>(left_[i]));
    right_[i] = static_cast<float>(direct + tail_gain_ * static_cast<double>(right_[i]));
  }
}

void Player::set_volume(std::size_t block) {
  const double wanted_db = volumes_db_[block];
  double to = gain_;
  if (reached_db_ != wanted_db) {
    const double rate = reached_db_ < wanted_db ? kQuietStartDbPerSecond : kVolumeDbPerSecond;
    const double most = rate * kBlockFrames / kSampleRate;
    reached_db_ = std::clamp(wanted_db, reached_db_ - most, reached_db_ + most);
    to = amplitude(reached_db_) * output_gain_;
  }
  const double step = (to - gain_) / kBlockFrames;
  for (std::size_t i = block * kBlock; i < (block + 1) * kBlock; ++i) {
    gain_ += step;
    left_[i] = static_cast<float>(static_cast<double>(left_[i]) * gain_);
    right_[i] = static_cast<float>(static_cast<double>(right_[i]) * gain_);
  }
  gain_ = to;
}

void Player::set_volume() {
  for (std::size_t block = 0; block < volumes_db_.size(); ++block) set_volume(block);
}

void Player::render_quantum() {
  for (std::size_t block = 0; block < volumes_db_.size();) {
    carry_out_due();
    sway();
    bend_divisions();
    const std::size_t blocks =
        std::min(blocks_till_something_happens(), volumes_db_.size() - block);
    std::fill_n(volumes_db_.begin() + static_cast<std::ptrdiff_t>(block), blocks, volume_db_);
    render_run(dry_.data() + block * kBlock, blocks);
    block += blocks;
  }
  if (room_) {
    add_room();
  } else {
    std::copy(dry_.begin(), dry_.end(), left_.begin());
    std::copy(dry_.begin(), dry_.end(), right_.begin());
  }
  set_volume();
  if (limiting_) limiter_.process(left_.data(), right_.data(), left_.size());
  tell();
}

void Player::tell() {
  told_frames_.store(now_, std::memory_order_relaxed);
  told_speaking_.store(console_.speaking(), std::memory_order_relaxed);
  const auto gain = static_cast<float>(limiter_.gain());
  if (gain < told_gain_.load(std::memory_order_relaxed))
    told_gain_.store(gain, std::memory_order_relaxed);
}

void Player::render(float* left, float* right, std::size_t frames) {
  const NoDenormals guard;
  for (std::size_t done = 0; done < frames;) {
    if (ready_ == left_.size()) {
      render_quantum();
      ready_ = 0;
    }
    const std::size_t some = std::min(frames - done, left_.size() - ready_);
    std::copy_n(left_.data() + ready_, some, left + done);
    std::copy_n(right_.data() + ready_, some, right + done);
    ready_ += some;
    done += some;
  }
}

}  // namespace loftbeat::voice::rt
