#include "window/look_back/saving.h"

#include <algorithm>
#include <utility>

#include <QCoreApplication>

#include "base/file.h"
#include "report/json.h"
#include "report/page.h"
#include "report/words.h"
#include "take/smf_take.h"
#include "window/look_back/review_pdf.h"

namespace loftbeat::window {
namespace {

QString saving_words(const char* text) { return QCoreApplication::translate("look back", text); }

}  // namespace

QString save_name(SaveAs kind) {
  switch (kind) {
    case SaveAs::pdf: return saving_words("PDF to print");
    case SaveAs::json: return saving_words("Every figure (JSON)");
    case SaveAs::midi: return saving_words("The take (MIDI file)");
    case SaveAs::wav: return saving_words("The sound (WAV)");
    case SaveAs::page: break;
  }
  return saving_words("Page for a browser");
}

QString save_ending(SaveAs kind) {
  switch (kind) {
    case SaveAs::pdf: return QStringLiteral(".pdf");
    case SaveAs::json: return QStringLiteral(".json");
    case SaveAs::midi: return QStringLiteral(".mid");
    case SaveAs::wav: return QStringLiteral(".wav");
    case SaveAs::page: break;
  }
  return QStringLiteral(".html");
}

std::string take_with_passes(const app::ReviewedPractice& practice) {
  take::Take take = practice.take;
  for (std::size_t i = 0; i < practice.review.alignment.passes.size(); ++i) {
    take::Event marker;
    marker.at = practice.review.alignment.passes[i].first_onset;
    marker.kind = take::EventKind::marker;
    marker.bytes = report::pass_name(practice.review, static_cast<int>(i));
    const auto place =
        std::lower_bound(take.events.begin(), take.events.end(), marker.at,
                         [](const take::Event& event, Instant at) { return event.at < at; });
    take.events.insert(place, std::move(marker));
  }
  return take::format_take(take);
}

Status save_practice(const app::ReviewedPractice& practice, SaveAs kind, const std::string& path,
                     HearOrder hear, WorkState& state) {
  std::string contents;
  switch (kind) {
    case SaveAs::wav: {
      hear.plan_path = practice.kept.folder.plan();
      hear.take_path = practice.kept.folder.take();
      hear.to_path = path;
      hear.from_s = 0;
      std::atomic<std::int64_t> frame{0};
      const auto sounded = sound_take(hear, state, frame);
      return sounded ? Status() : Status(sounded.error());
    }
    case SaveAs::pdf: {
      auto pdf = review_pdf(practice);
      if (!pdf) return pdf.error();
      contents = std::move(*pdf);
      break;
    }
    case SaveAs::page: contents = report::format_page(practice.review); break;
    case SaveAs::json: contents = report::format_json(practice.review); break;
    case SaveAs::midi: contents = take_with_passes(practice); break;
  }
  if (state.cancelled()) return {};
  return write_file(path, contents);
}

}  // namespace loftbeat::window
