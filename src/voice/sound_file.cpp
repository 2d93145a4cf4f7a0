#include "voice/sound_file.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cstdio>
#include <utility>

#include <sndfile.h>
#include <unistd.h>

#include "voice/rt/event.h"

namespace loftbeat::voice {
namespace {

struct Closer {
  void operator()(SNDFILE* file) const { sf_close(file); }
};

int format_of(const std::string& path) {
  std::string ending = path.substr(std::min(path.size(), path.find_last_of("./")));
  std::transform(ending.begin(), ending.end(), ending.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  if (ending == ".wav") return SF_FORMAT_WAV | SF_FORMAT_PCM_24;
  if (ending == ".flac") return SF_FORMAT_FLAC | SF_FORMAT_PCM_24;
  return 0;
}

Error failed(const std::string& path, const std::string& why) {
  return {ErrorKind::failed, "cannot be written: " + why, path, 0, 0, "Is there room on the disk?"};
}

}  // namespace

struct SoundFile::Open {
  std::string path;
  std::string temporary;  // empty once it has been moved
  std::unique_ptr<SNDFILE, Closer> file;
  std::array<float, 2 * kMostFramesAtOnce> frames{};
  ~Open() {
    file.reset();
    if (!temporary.empty()) std::remove(temporary.c_str());
  }
};

SoundFile::SoundFile(std::unique_ptr<Open> open) : open_(std::move(open)) {}
SoundFile::SoundFile(SoundFile&&) noexcept = default;
SoundFile& SoundFile::operator=(SoundFile&&) noexcept = default;
SoundFile::~SoundFile() = default;

Result<SoundFile> SoundFile::create(const std::string& path) {
  SF_INFO info{};
  info.samplerate = rt::kSampleRate;
  info.channels = 2;
  info.format = format_of(path);
  if (info.format == 0) {
    return Error{ErrorKind::wrong_use,
                 "the sound file \"" + path + "\" ends neither in .wav nor in .flac.",
                 "",
                 0,
                 0,
                 "Its ending says which kind it becomes."};
  }
  auto open = std::make_unique<Open>();
  open->path = path;
  const std::string temporary = path + "." + std::to_string(getpid()) + ".part";
  open->file.reset(sf_open(temporary.c_str(), SFM_WRITE, &info));
  if (!open->file) {
    return Error{ErrorKind::failed,
                 std::string("cannot be written: ") + sf_strerror(nullptr),
                 path,
                 0,
                 0,
                 "Does its folder exist?"};
  }
  open->temporary = temporary;
  sf_command(open->file.get(), SFC_SET_CLIPPING, nullptr, SF_TRUE);
  return SoundFile(std::move(open));
}

Status SoundFile::write(const float* left, const float* right, std::size_t frames) {
  frames = std::min(frames, kMostFramesAtOnce);
  for (std::size_t i = 0; i < frames; ++i) {
    open_->frames[2 * i] = left[i];
    open_->frames[2 * i + 1] = right[i];
  }
  const auto wanted = static_cast<sf_count_t>(frames);
  if (sf_writef_float(open_->file.get(), open_->frames.data(), wanted) == wanted) return {};
  return failed(open_->path, sf_strerror(open_->file.get()));
}

Status SoundFile::close() {
  const int trouble = sf_close(open_->file.release());
  if (trouble != 0) return failed(open_->path, sf_error_number(trouble));
  if (std::rename(open_->temporary.c_str(), open_->path.c_str()) != 0)
    return failed(open_->path, "it cannot be moved to its place.");
  open_->temporary.clear();
  return {};
}

}  // namespace loftbeat::voice
