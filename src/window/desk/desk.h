#pragma once

#include <QObject>
#include <QSettings>
#include <QString>

#include "window/desk/parish.h"
#include "window/desk/theme.h"

namespace loftbeat::window {

// What all places share: the parish, the hymn that is on the desk, how things look, and what the
// user chose, which is remembered. The window's thread.
class Desk : public QObject {
  Q_OBJECT

 public:
  // `parish`: its folder; empty: the one of last time. `settings`: where choices are remembered;
  // empty: the user's own folder for settings.
  explicit Desk(const QString& parish, const QString& settings = {});

  [[nodiscard]] const Parish& parish() const { return parish_; }
  // Looks again what lies in the folder.
  void refresh();

  // The plan of the hymn that one works on: its file; empty if none is chosen.
  [[nodiscard]] const QString& plan() const { return plan_; }
  void choose_plan(const QString& path);
  // The plan's file has been written anew.
  void plan_written() { emit plan_changed(plan_); }

  [[nodiscard]] Shade shade() const { return shade_; }
  [[nodiscard]] Theme theme() const { return theme_of(shade_); }
  [[nodiscard]] int scale() const { return scale_; }
  void choose_look(Shade shade, int scale_percent);

  // The user's choices, by name; places put theirs under "keys/", "prepare/", "look-back/".
  [[nodiscard]] QSettings& settings() { return settings_; }

 signals:
  void parish_changed();
  void plan_changed(const QString& path);  // another one, or the same written anew
  void look_changed();
  void practice_kept(const QString& folder);  // a practice has been finished
  // Go to the third place, with this practice.
  void look_back_wanted(const QString& folder);

 private:
  void dress_now();

  QSettings settings_;
  Parish parish_;
  QString plan_;
  Shade shade_ = Shade::light;
  int scale_ = kLeastScale;
  double system_points_;
};

}  // namespace loftbeat::window
