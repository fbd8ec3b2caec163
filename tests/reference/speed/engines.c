/* Times Pango's layout and HarfBuzz's shaping of a blurb, and prints for each: name, least and median microseconds.
 *
 *   engines FONT SIZE WIDTH BLURB CHANGED ROUNDS
 *
 * BLURB and CHANGED are files of the same copy but for one word. Fonts are loaded and everything has run once before
 * the clock starts. */
#include <fontconfig/fontconfig.h>
#include <hb-ot.h>
#include <hb.h>
#include <pango/pangocairo.h>
#include <pango/pangofc-fontmap.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

static double now(void) {
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return time.tv_sec * 1e6 + time.tv_nsec / 1e3;
}

static int by_size(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static void print_times(const char *name, double *times, int rounds) {
    qsort(times, rounds, sizeof *times, by_size);
    printf("%s\t%.3f\t%.3f\n", name, times[0], times[rounds / 2]);
}

/* The paragraphs of a file, one a line. */
static char *read_paragraphs(const char *path) {
    FILE *file = fopen(path, "rb");
    if (!file) {
        fprintf(stderr, "%s cannot be read\n", path);
        exit(2);
    }
    char *text = calloc(1 << 16, 1);
    size_t length = fread(text, 1, (1 << 16) - 1, file);
    fclose(file);
    char *end = text;
    for (size_t i = 0; i < length; i++) {
        if (text[i] != '\n' || (end > text && end[-1] != '\n')) *end++ = text[i];
    }
    while (end > text && end[-1] == '\n') end--;
    *end = 0;
    return text;
}

static PangoContext *context_with(const char *font, PangoFontDescription **description) {
    FcConfig *config = FcConfigCreate();
    FcConfigAppFontAddFile(config, (const FcChar8 *)font);
    PangoFontMap *map = pango_cairo_font_map_new_for_font_type(CAIRO_FONT_TYPE_FT);
    pango_fc_font_map_set_config(PANGO_FC_FONT_MAP(map), config);
    PangoContext *context = pango_font_map_create_context(map);
    cairo_font_options_t *options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    pango_cairo_context_set_font_options(context, options);
    pango_cairo_context_set_resolution(context, 72.0);
    pango_context_set_round_glyph_positions(context, FALSE);
    pango_context_set_language(context, pango_language_from_string("en"));
    *description = pango_fc_font_description_from_pattern(FcConfigGetFonts(config, FcSetApplication)->fonts[0], FALSE);
    return context;
}

static PangoLayout *new_layout(PangoContext *context, PangoFontDescription *description, double width) {
    PangoLayout *layout = pango_layout_new(context);
    pango_layout_set_font_description(layout, description);
    pango_layout_set_width(layout, (int)(width * PANGO_SCALE));
    pango_layout_set_wrap(layout, PANGO_WRAP_WORD);
    return layout;
}

static void time_pango(char **arguments, const char *blurb, const char *changed, int rounds, double *times) {
    PangoFontDescription *description;
    PangoContext *context = context_with(arguments[1], &description);
    double width = atof(arguments[3]);
    pango_font_description_set_absolute_size(description, atof(arguments[2]) * PANGO_SCALE);
    int lines = 0;
    for (int i = -20; i < rounds; i++) {
        double start = now();
        PangoLayout *layout = new_layout(context, description, width);
        pango_layout_set_text(layout, blurb, -1);
        lines += pango_layout_get_line_count(layout);
        if (i >= 0) times[i] = now() - start;
        g_object_unref(layout);
    }
    print_times("pango cold", times, rounds);
    PangoLayout *layout = new_layout(context, description, width);
    for (int i = -20; i < rounds; i++) {
        double start = now();
        pango_layout_set_text(layout, i % 2 ? changed : blurb, -1);
        lines += pango_layout_get_line_count(layout);
        if (i >= 0) times[i] = now() - start;
    }
    print_times("pango again", times, rounds);
    fprintf(stderr, "%d lines by Pango\n", lines / (2 * (rounds + 20)));
}

static void time_harfbuzz(const char *path, const char *blurb, int rounds, double *times) {
    hb_font_t *font = hb_font_create(hb_face_create(hb_blob_create_from_file(path), 0));
    hb_buffer_t *buffer = hb_buffer_create();
    unsigned glyphs = 0;
    for (int i = -20; i < rounds; i++) {
        double start = now();
        for (const char *at = blurb; *at;) {
            int length = (int)strcspn(at, "\n");
            hb_buffer_clear_contents(buffer);
            hb_buffer_add_utf8(buffer, at, length, 0, length);
            hb_buffer_set_direction(buffer, HB_DIRECTION_LTR);
            hb_buffer_set_script(buffer, HB_SCRIPT_LATIN);
            hb_shape(font, buffer, NULL, 0);
            glyphs += hb_buffer_get_length(buffer);
            at += length + (at[length] == '\n');
        }
        if (i >= 0) times[i] = now() - start;
    }
    print_times("harfbuzz shape", times, rounds);
    fprintf(stderr, "%u glyphs by HarfBuzz %s\n", glyphs / (rounds + 20), hb_version_string());
}

int main(int count, char **arguments) {
    if (count != 7) {
        fprintf(stderr, "use: engines FONT SIZE WIDTH BLURB CHANGED ROUNDS\n");
        return 2;
    }
    int rounds = atoi(arguments[6]);
    double *times = calloc(rounds, sizeof *times);
    char *blurb = read_paragraphs(arguments[4]), *changed = read_paragraphs(arguments[5]);
    time_pango(arguments, blurb, changed, rounds, times);
    time_harfbuzz(arguments[1], blurb, rounds, times);
    return 0;
}
