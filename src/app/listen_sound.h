#pragma once

#include <memory>
#include <string>
#include <vector>

#include "app/listen_command.h"
#include "app/sound_data.h"
#include "live/rt/stage.h"
#include "voice/sound_stream.h"

namespace loftbeat::app {

// What sounds while one practises: the ranks, if they are to speak, and the clicks.
class ListenSound : public voice::StreamSource {
 public:
  struct Order {
    const ListenOrder* listen = nullptr;  // not null
    const SoundData* ranks = nullptr;     // null: the ranks are silent
    std::vector<live::rt::ClickAt> clicks;
    std::vector<live::rt::MessageQueue*> queues;  // of the inputs, for the ranks
    std::unique_ptr<live::rt::AddedSound> added;  // null: none
  };
  // Loads the ranks (a second or two) and opens the device. Errors: what these say.
  [[nodiscard]] static Result<std::unique_ptr<ListenSound>> open(Order order);
  ~ListenSound() override;
  ListenSound(const ListenSound&) = delete;
  ListenSound& operator=(const ListenSound&) = delete;

  [[nodiscard]] live::rt::Stage& stage() { return *stage_; }
  [[nodiscard]] bool runs() const { return stream_->runs(); }
  // Everything falls silent; keys that are held speak no more.
  void silence();
  // "JACK ...: system, 5.3 ms".
  [[nodiscard]] std::string device_words() const;

  void render(float* left, float* right, std::size_t frames, std::int64_t now_ns) override;

 private:
  ListenSound() = default;
  std::unique_ptr<live::rt::Stage> stage_;
  std::unique_ptr<voice::SoundStream> stream_;  // last: it uses the stage
};

}  // namespace loftbeat::app
