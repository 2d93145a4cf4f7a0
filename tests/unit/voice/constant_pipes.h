#pragma once

#include <algorithm>
#include <map>
#include <set>
#include <utility>
#include <vector>

#include "voice/rt/event.h"
#include "voice/rt/pipe_source.h"

namespace loftbeat::voice::rt {

// Pipes that sound as a constant: each that speaks adds 0.01 to its division. What happens is exact
// to the frame and can be read off the samples.
class ConstantPipes : public PipeSource {
 public:
  explicit ConstantPipes(std::vector<int> division_of_stop)
      : division_(std::move(division_of_stop)) {}
  void speak(int stop, int /*key*/) override {
    ++count_[division_[static_cast<std::size_t>(stop)]];
  }
  void hush(int stop, int /*key*/) override {
    int& count = count_[division_[static_cast<std::size_t>(stop)]];
    count = std::max(0, count - 1);
  }
  void bend(int /*division*/, double cents) override { cents_.insert(cents); }
  void cut_off() override { count_.clear(); }
  void render(const std::vector<float*>& out, int blocks) override {
    for (std::size_t d = 0; d < out.size(); ++d)
      for (int i = 0; i < blocks * kBlockFrames; ++i)
        out[d][i] += 0.01F * static_cast<float>(count_[static_cast<int>(d)]);
  }
  std::set<double> cents_;

 private:
  std::vector<int> division_;
  std::map<int, int> count_;
};

}  // namespace loftbeat::voice::rt
