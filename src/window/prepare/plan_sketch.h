#pragma once

#include <functional>

#include <QObject>
#include <QString>
#include <QUndoStack>

#include "base/result.h"
#include "plan/plan.h"

namespace loftbeat::window {

// The plan that is being edited. Every change can be undone, and stands at once in a file of its
// own, so that a crash takes nothing away; the plan's file is written by save(). The window's
// thread.
class PlanSketch : public QObject {
  Q_OBJECT

 public:
  // `unsaved`: the file that holds what has not been saved.
  explicit PlanSketch(QString unsaved, QObject* parent = nullptr);
  ~PlanSketch() override;

  // Takes up a plan. If a crash left changes of it unsaved, they are there, as one step that can be
  // undone; recovered() tells. Errors: the plan cannot be read; the sketch is as it was.
  [[nodiscard]] Status open(const QString& path);
  // A new plan of a score, not saved yet. `path`: where it will be.
  void begin(const QString& path, const std::string& score);
  [[nodiscard]] bool is_open() const { return !plan_.file.empty(); }
  [[nodiscard]] bool recovered() const { return recovered_; }

  [[nodiscard]] const plan::Plan& plan() const { return plan_; }
  // One step. Steps with the same `merges` (not empty) that follow one another become one.
  void change(const QString& words, const std::function<void(plan::Plan&)>& edit,
              const QString& merges = {});
  [[nodiscard]] QUndoStack& steps() { return steps_; }
  [[nodiscard]] bool is_saved() const { return steps_.isClean(); }
  // Writes the plan's file; what was there the first time is kept beside it, with "~" after its
  // name (remarks in it are not in the new one). Errors: the system refuses.
  [[nodiscard]] Status save();

 signals:
  void changed();

 private:
  class Step;
  void set(const plan::Plan& plan);
  void keep_unsaved();

  QString unsaved_;
  plan::Plan plan_;
  QUndoStack steps_;
  bool recovered_ = false;
};

}  // namespace loftbeat::window
