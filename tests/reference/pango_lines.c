/* Prints the lines into which Pango breaks a text, one a row: paragraph, width in points, text.
 *
 *   pango_lines FONT SIZE WIDTH ENLARGEMENT < TEXT      one paragraph a line
 *
 * Hinting and every kind of rounding are off, a point is a pixel, and no font but FONT is known. */
#include <fontconfig/fontconfig.h>
#include <pango/pangocairo.h>
#include <pango/pangofc-fontmap.h>
#include <stdio.h>
#include <stdlib.h>

static PangoContext *context_with(const char *font, PangoFontDescription **description) {
    FcConfig *config = FcConfigCreate();
    if (!FcConfigAppFontAddFile(config, (const FcChar8 *)font)) {
        fprintf(stderr, "%s cannot be read\n", font);
        exit(2);
    }
    PangoFontMap *map = pango_cairo_font_map_new_for_font_type(CAIRO_FONT_TYPE_FT);
    pango_fc_font_map_set_config(PANGO_FC_FONT_MAP(map), config);
    PangoContext *context = pango_font_map_create_context(map);
    cairo_font_options_t *options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    pango_cairo_context_set_font_options(context, options);
    pango_cairo_context_set_resolution(context, 72.0);
    pango_context_set_round_glyph_positions(context, FALSE);
    pango_context_set_language(context, pango_language_from_string("en"));
    FcFontSet *fonts = FcConfigGetFonts(config, FcSetApplication);
    *description = pango_fc_font_description_from_pattern(fonts->fonts[0], FALSE);
    return context;
}

int main(int count, char **arguments) {
    if (count != 5) {
        fprintf(stderr, "use: pango_lines FONT SIZE WIDTH ENLARGEMENT < TEXT\n");
        return 2;
    }
    double size = atof(arguments[2]), width = atof(arguments[3]), zoom = atof(arguments[4]);
    static char text[1 << 20];
    size_t length = fread(text, 1, sizeof text - 1, stdin);
    PangoFontDescription *description;
    PangoContext *context = context_with(arguments[1], &description);
    pango_font_description_set_absolute_size(description, size * zoom * PANGO_SCALE);
    PangoLayout *layout = pango_layout_new(context);
    pango_layout_set_font_description(layout, description);
    pango_layout_set_width(layout, (int)(width * zoom * PANGO_SCALE + 0.5));
    pango_layout_set_wrap(layout, PANGO_WRAP_WORD);
    pango_layout_set_text(layout, text, (int)length);
    int paragraph = 0, lines = pango_layout_get_line_count(layout);
    for (int i = 0; i < lines; i++) {
        PangoLayoutLine *line = pango_layout_get_line_readonly(layout, i);
        if (i && line->is_paragraph_start) paragraph++;
        PangoRectangle extents;
        pango_layout_line_get_extents(line, NULL, &extents);
        printf("%d\t%.5f\t%.*s\n", paragraph, (double)extents.width / PANGO_SCALE / zoom, line->length,
               text + line->start_index);
    }
    if (pango_layout_get_unknown_glyphs_count(layout)) {
        fprintf(stderr, "letters are missing in %s\n", arguments[1]);
        return 3;
    }
    return 0;
}
