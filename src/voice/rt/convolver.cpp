#include "voice/rt/convolver.h"

#include <algorithm>
#include <bit>
#include <cstdint>
#include <new>
#include <utility>

#include <sched.h>
#include <zita-convolver.h>

namespace loftbeat::voice::rt {
namespace {

constexpr std::size_t kLongest = std::size_t{20} * 48000;

Error refused(std::string why) { return {ErrorKind::failed, std::move(why), "", 0, 0, ""}; }

Status check(const Convolver::Spec& spec) {
  const std::size_t longest = std::max(spec.left.size(), spec.right.size());
  if (longest == 0 || longest > kLongest)
    return refused("the room's response is empty or longer than 20 s.");
  const bool fits = spec.quantum >= 64 && spec.quantum <= 8192;
  if (!std::has_single_bit(spec.quantum) || !fits)
    return refused("the room's block is not a power of two from 64 to 8192 frames.");
  return {};
}

std::vector<float> piece(const std::vector<float>& response, std::size_t begin, std::size_t end) {
  const auto at = [&](std::size_t i) {
    return response.begin() + static_cast<std::ptrdiff_t>(std::min(i, response.size()));
  };
  return {at(begin), at(end)};
}

}  // namespace

// Parts of one size only. Throws what zita throws.
struct Convolver::Part {
  Convproc zita;

  // The responses are taken by value, since zita wants them mutable.
  Part(std::vector<float> left, std::vector<float> right, std::size_t size) {
    const auto part = static_cast<std::uint32_t>(size);
    const auto longest = static_cast<std::uint32_t>(std::max(left.size(), right.size()));
    zita.set_options(Convproc::OPT_VECTOR_MODE);
    check_call(zita.configure(1, 2, longest, part, part, part, 0.0F));
    std::uint32_t out = 0;
    for (std::vector<float>* response : {&left, &right}) {
      const int length = static_cast<int>(response->size());
      if (length > 0) check_call(zita.impdata_create(0, out, 1, response->data(), 0, length));
      ++out;
    }
    check_call(zita.start_process(0, SCHED_OTHER));
  }
  ~Part() {
    zita.stop_process();
    zita.cleanup();
  }
  Part(const Part&) = delete;
  Part& operator=(const Part&) = delete;

  static void check_call(int trouble) {
    if (trouble != 0) throw Converror(trouble);
  }
};

Convolver::Convolver(const Spec& spec)
    : quantum_(spec.quantum), longest_(std::max(spec.left.size(), spec.right.size())) {
  if (quantum_ >= kTailPart || longest_ <= kTailPart) {
    head_ = std::make_unique<Part>(spec.left, spec.right, quantum_);
    return;
  }
  head_ = std::make_unique<Part>(piece(spec.left, 0, kTailPart), piece(spec.right, 0, kTailPart),
                                 quantum_);
  tail_ = std::make_unique<Part>(piece(spec.left, kTailPart, longest_),
                                 piece(spec.right, kTailPart, longest_), kTailPart);
  tail_in_.resize(kTailPart);
  tail_left_.resize(kTailPart);
  tail_right_.resize(kTailPart);
}

Convolver::~Convolver() = default;

Result<std::unique_ptr<Convolver>> Convolver::make(const Spec& spec) {
  if (Status status = check(spec); !status) return status.error();
  try {
    return std::unique_ptr<Convolver>(new Convolver(spec));
  } catch (const std::bad_alloc&) {
    return refused("there is not enough memory for the room's response.");
  } catch (const Converror&) {
    return refused("the convolution with the room could not be set up.");
  }
}

// The tail's block lies one block of 2048 behind, which is where its responses begin.
void Convolver::feed_tail(const float* in, float* left, float* right) {
  for (std::size_t i = 0; i < quantum_; ++i) {
    tail_in_[fed_ + i] = in[i];
    left[i] += tail_left_[fed_ + i];
    right[i] += tail_right_[fed_ + i];
  }
  fed_ += quantum_;
  if (fed_ < kTailPart) return;
  fed_ = 0;
  std::copy(tail_in_.begin(), tail_in_.end(), tail_->zita.inpdata(0));
  tail_->zita.process();
  std::copy_n(tail_->zita.outdata(0), kTailPart, tail_left_.begin());
  std::copy_n(tail_->zita.outdata(1), kTailPart, tail_right_.begin());
}

void Convolver::process(const float* in, float* left, float* right) {
  std::copy_n(in, quantum_, head_->zita.inpdata(0));
  head_->zita.process();
  std::copy_n(head_->zita.outdata(0), quantum_, left);
  std::copy_n(head_->zita.outdata(1), quantum_, right);
  if (tail_) feed_tail(in, left, right);
}

}  // namespace loftbeat::voice::rt
