#include "report/print/card_pdf.h"

#include <memory>

#include <QBuffer>
#include <QFontDatabase>
#include <QGuiApplication>
#include <QMarginsF>
#include <QPageSize>
#include <QPainter>
#include <QPdfWriter>

namespace loftbeat::report {
namespace {

// Units of the painter: a hundredth of a millimetre, so that type keeps its size to a thousandth.
constexpr double kUnitsPerMm = 100;
constexpr int kDotsPerInch = 2540;  // one unit

Error no_pdf(const std::string& why) {
  return Error{ErrorKind::failed,
               "the PDF could not be made: " + why,
               "",
               0,
               0,
               "Write the card as .html or .svg instead, and print that."};
}

// What Qt remarks while it starts is of no use to whoever prints a card.
void say_nothing(QtMsgType, const QMessageLogContext&, const QString&) {}

// One for the call, unless the window has its own.
class Application {
 public:
  Application() {
    if (QCoreApplication::instance() != nullptr) return;
    const QtMessageHandler before = qInstallMessageHandler(say_nothing);
    own_ = std::make_unique<QGuiApplication>(count_, words_);
    qInstallMessageHandler(before);
  }

 private:
  int count_ = 3;
  char name_[9] = "loftbeat";
  char option_[10] = "-platform";
  char platform_[10] = "offscreen";
  char* words_[4] = {name_, option_, platform_, nullptr};
  std::unique_ptr<QGuiApplication> own_;
};

QFont font_of(const CardText& text) {
  QFont font;
  font.setFamilies({"DejaVu Sans", "Liberation Sans", "Arial", "Helvetica", "sans-serif"});
  font.setPixelSize(static_cast<int>(text.size_mm * kUnitsPerMm + 0.5));
  font.setBold(text.weight == CardWeight::bold);
  return font;
}

void draw_page(QPainter& painter, const CardPage& page) {
  painter.setPen(QPen(Qt::black, 0.25 * kUnitsPerMm));
  for (const CardRule& rule : page.rules) {
    const double y = rule.y_mm * kUnitsPerMm;
    painter.drawLine(QPointF(kCardMarginMm * kUnitsPerMm, y),
                     QPointF((kCardWidthMm - kCardMarginMm) * kUnitsPerMm, y));
  }
  for (const CardText& text : page.texts) {
    painter.setFont(font_of(text));
    painter.drawText(QPointF(text.x_mm * kUnitsPerMm, text.y_mm * kUnitsPerMm),
                     QString::fromStdString(text.words));
  }
}

bool draw_all(QPagedPaintDevice& device, const std::vector<Card>& cards) {
  QPainter painter;
  if (!painter.begin(&device)) return false;
  const double scale = device.logicalDpiX() / static_cast<double>(kDotsPerInch);
  painter.scale(scale, scale);
  bool first = true;
  for (const Card& card : cards) {
    for (const CardPage& page : lay_out_card(card)) {
      if (!first && !device.newPage()) return false;
      first = false;
      draw_page(painter, page);
    }
  }
  return painter.end();
}

}  // namespace

Status print_cards(const std::vector<Card>& cards, QPagedPaintDevice& device) {
  if (draw_all(device, cards)) return {};
  return Error{ErrorKind::failed,
               "the card could not be printed: the printer refused.",
               "",
               0,
               0,
               "Look whether it is switched on and has paper, or keep the card as a file."};
}

Result<std::string> cards_pdf(const std::vector<Card>& cards, const std::string& title) {
  const Application application;
  if (QFontDatabase::families().isEmpty()) return no_pdf("no type is installed on this computer.");
  QByteArray bytes;
  QBuffer buffer(&bytes);
  buffer.open(QIODevice::WriteOnly);
  {
    QPdfWriter writer(&buffer);
    writer.setTitle(QString::fromStdString(title));
    writer.setCreator("Loftbeat");
    writer.setResolution(kDotsPerInch);
    writer.setPageSize(QPageSize(QPageSize::A5));
    writer.setPageMargins(QMarginsF(0, 0, 0, 0));
    if (!draw_all(writer, cards)) return no_pdf("the printer's part of Qt refused.");
  }
  return bytes.toStdString();
}

}  // namespace loftbeat::report
