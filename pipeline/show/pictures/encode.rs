//! Composed pictures as files: PNG, JPEG.

use super::compose::Still;
use base::model::Fault;
use base::model::shot::ShotFormat;
use image::codecs::jpeg::JpegEncoder;
use std::io::Cursor;

/// Writes a picture.
pub fn still(picture: &Still, format: ShotFormat) -> Result<Vec<u8>, Fault> {
    match format {
        ShotFormat::Jpeg(quality) => jpeg(picture, quality),
        ShotFormat::Png | ShotFormat::Gif | ShotFormat::Film => png(picture),
    }
}

/// 8-bit RGB, said to be sRGB. Which filter suits a row is tried out.
fn png(picture: &Still) -> Result<Vec<u8>, Fault> {
    let fail = |e: png::EncodingError| Fault::new(format!("the PNG could not be written: {e}"));
    let mut out = Cursor::new(Vec::new());
    let mut encoder = png::Encoder::new(&mut out, picture.width, picture.height);
    encoder.set_color(png::ColorType::Rgb);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_source_srgb(png::SrgbRenderingIntent::Perceptual);
    encoder.set_compression(png::Compression::Balanced);
    let mut writer = encoder.write_header().map_err(fail)?;
    writer.write_image_data(&picture.rgb).map_err(fail)?;
    writer.finish().map_err(fail)?;
    Ok(out.into_inner())
}

fn jpeg(picture: &Still, quality: u8) -> Result<Vec<u8>, Fault> {
    let mut out = Vec::new();
    JpegEncoder::new_with_quality(&mut out, quality)
        .encode(&picture.rgb, picture.width, picture.height, image::ExtendedColorType::Rgb8)
        .map_err(|e| Fault::new(format!("the JPEG could not be written: {e}")))?;
    Ok(out)
}
