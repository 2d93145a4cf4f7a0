#include "window/prepare/plan_sketch.h"

#include <filesystem>
#include <utility>

#include <QDir>
#include <QFile>
#include <QFileInfo>

#include "base/file.h"
#include "plan/read.h"

namespace loftbeat::window {
namespace {

namespace fs = std::filesystem;

// The unsaved plan stands in a folder of ours; its first line says whose changes they are.
const QByteArray kOf = QByteArrayLiteral("# Changes that were not saved, of: ");

QString owner_of(const QString& unsaved) {
  QFile file(unsaved);
  if (!file.open(QIODevice::ReadOnly)) return {};
  const QByteArray line = file.readLine().trimmed();
  return line.startsWith(kOf) ? QString::fromUtf8(line.mid(kOf.size())) : QString();
}

}  // namespace

class PlanSketch::Step : public QUndoCommand {
 public:
  Step(PlanSketch& of, const QString& words, plan::Plan before, plan::Plan after, QString merges)
      : QUndoCommand(words),
        of_(of),
        before_(std::move(before)),
        after_(std::move(after)),
        merges_(std::move(merges)) {}
  void undo() override { of_.set(before_); }
  void redo() override { of_.set(after_); }
  [[nodiscard]] int id() const override { return merges_.isEmpty() ? -1 : 1; }
  bool mergeWith(const QUndoCommand* other) override {
    const auto* next = dynamic_cast<const Step*>(other);
    if (next == nullptr || next->merges_ != merges_) return false;
    after_ = next->after_;
    return true;
  }

 private:
  PlanSketch& of_;
  plan::Plan before_;
  plan::Plan after_;
  QString merges_;
};

PlanSketch::PlanSketch(QString unsaved, QObject* parent)
    : QObject(parent), unsaved_(std::move(unsaved)) {
  connect(&steps_, &QUndoStack::cleanChanged, this, [this](bool clean) {
    if (clean) QFile::remove(unsaved_);
  });
}

// A stack that goes says that it is clean; what is unsaved stays so.
PlanSketch::~PlanSketch() { steps_.blockSignals(true); }

Status PlanSketch::open(const QString& path) {
  auto read = plan::read_plan(path.toStdString());
  if (!read) return read.error();
  const bool left = owner_of(unsaved_) == path;
  auto unsaved = left ? plan::read_plan(unsaved_.toStdString()) : read;
  plan_ = std::move(*read);
  recovered_ = left && unsaved.ok();
  steps_.blockSignals(true);  // a clean stack would take the unsaved file away
  steps_.clear();
  steps_.blockSignals(false);
  if (recovered_) {
    unsaved->file = plan_.file;
    steps_.push(new Step(*this, tr("changes of last time"), plan_, *unsaved, {}));
  } else {
    emit changed();
  }
  return {};
}

void PlanSketch::begin(const QString& path, const std::string& score) {
  plan::Plan fresh;
  fresh.file = path.toStdString();
  fresh.score_path = score;
  steps_.clear();
  recovered_ = false;
  plan_ = fresh;
  fresh.join = plan::Join{plan::JoinKind::hold_and_lift, 2, 1, 0};
  steps_.push(new Step(*this, tr("new plan"), plan_, fresh, {}));
}

void PlanSketch::change(const QString& words, const std::function<void(plan::Plan&)>& edit,
                        const QString& merges) {
  if (!is_open()) return;
  plan::Plan after = plan_;
  edit(after);
  steps_.push(new Step(*this, words, plan_, std::move(after), merges));
}

void PlanSketch::set(const plan::Plan& plan) {
  plan_ = plan;
  keep_unsaved();
  emit changed();
}

void PlanSketch::keep_unsaved() {
  if (unsaved_.isEmpty()) return;
  QDir().mkpath(QFileInfo(unsaved_).path());
  plan::Plan copy = plan_;
  copy.file = unsaved_.toStdString();
  const std::string head = kOf.toStdString() + plan_.file + "\n";
  // If the disk refuses there is still the plan's own file; save() will tell.
  static_cast<void>(write_file(copy.file, head + plan::format_plan(copy)));
}

Status PlanSketch::save() {
  if (!is_open() || is_saved()) return {};
  std::error_code why;
  const fs::path before = plan_.file + "~";
  if (fs::exists(plan_.file, why) && !fs::exists(before, why))
    fs::copy_file(plan_.file, before, why);
  if (const Status status = write_file(plan_.file, plan::format_plan(plan_)); !status)
    return status;
  steps_.setClean();
  return {};
}

}  // namespace loftbeat::window
