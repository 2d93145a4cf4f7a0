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

constexpr std::size_t kLongest = 20 * 48000;
// Larger pieces cost less a frame; much above this the gain is small.
constexpr std::uint32_t kLargestPart = 8192;

Error refused(std::string why) { return {ErrorKind::failed, std::move(why), "", 0, 0, ""}; }

Status check(const Convolver::Spec& spec) {
  const std::size_t longest = std::max(spec.left.size(), spec.right.size());
  if (longest == 0 || longest > kLongest)
    return refused("the room's response is empty or longer than 20 s.");
  if (!std::has_single_bit(spec.quantum) || spec.quantum < 64 || spec.quantum > kLargestPart)
    return refused("the room's block is not a power of two from 64 to 8192 frames.");
  return {};
}

}  // namespace

struct Convolver::Engine {
  Convproc process;
  ~Engine() {
    process.stop_process();
    process.cleanup();
  }
};

Convolver::Convolver(std::unique_ptr<Engine> engine, const Spec& spec)
    : engine_(std::move(engine)),
      quantum_(spec.quantum),
      tail_(std::max(spec.left.size(), spec.right.size()) + spec.quantum),
      waits_(spec.pace == ConvolverPace::waits) {}

Convolver::~Convolver() = default;

Result<std::unique_ptr<Convolver>> Convolver::make(const Spec& spec) {
  if (Status status = check(spec); !status) return status.error();
  try {
    auto engine = std::make_unique<Engine>();
    Convproc& zita = engine->process;
    const auto longest = static_cast<std::uint32_t>(std::max(spec.left.size(), spec.right.size()));
    const auto quantum = static_cast<std::uint32_t>(spec.quantum);
    zita.set_options(Convproc::OPT_LATE_CONTIN);
    int trouble = zita.configure(1, 2, longest, quantum, quantum, kLargestPart, 0.0F);
    const auto add = [&](std::uint32_t out, std::vector<float> response) {  // zita wants it mutable
      if (trouble != 0 || response.empty()) return;
      trouble =
          zita.impdata_create(0, out, 1, response.data(), 0, static_cast<int>(response.size()));
    };
    add(0, spec.left);
    add(1, spec.right);
    if (trouble == 0) trouble = zita.start_process(0, SCHED_OTHER);
    if (trouble != 0) return refused("the convolution with the room could not be set up.");
    return std::unique_ptr<Convolver>(new Convolver(std::move(engine), spec));
  } catch (const std::bad_alloc&) {
    return refused("there is not enough memory for the room's response.");
  } catch (const Converror&) {
    return refused("there is not enough memory for the room's response.");
  }
}

void Convolver::process(const float* in, float* left, float* right) {
  Convproc& zita = engine_->process;
  std::copy_n(in, quantum_, zita.inpdata(0));
  if (zita.process(waits_) != 0) ++late_;
  std::copy_n(zita.outdata(0), quantum_, left);
  std::copy_n(zita.outdata(1), quantum_, right);
}

}  // namespace loftbeat::voice::rt
